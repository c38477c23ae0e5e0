package duskpeg.messaging.reply;

import duskpeg.core.act.Act;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.report.Entry;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/** Says what was taken back, and what of it still stands. */
final class TakenBackWriter {

    private final Words words;

    TakenBackWriter(Words words) {
        this.words = words;
    }

    /** From the fullest wording to the briefest; what was taken back in part is said with what stands. */
    List<String> wordings(Entry.OfTakeBack back) {
        if (back.acts().isEmpty() && back.custody().isEmpty()) {
            return List.of(words.say("taken.nothing"));
        }
        List<String> all = new ArrayList<>(said(back.acts()));
        all.addAll(custody(back.custody()));
        String taken = fitting("taken", all);
        if (back.stands().isEmpty()) {
            return List.of(taken);
        }
        return List.of(
                taken + " " + words.say("taken.stands", "what", String.join("; ", said(back.stands()))),
                taken + " " + words.say("taken.stands", "what", briefly(back.stands())),
                words.say("taken", "what", briefly(back.acts())) + " "
                        + words.say("taken.stands", "what", briefly(back.stands())));
    }

    /** What a correction took back, in full. */
    String corrected(List<Act> was) {
        return was.isEmpty() ? words.say("corrected.nothing") : fitting("corrected", said(was));
    }

    /** What a correction took back, in a number. */
    String correctedBriefly(List<Act> was) {
        return was.isEmpty() ? words.say("corrected.nothing") : words.say("corrected", "what", briefly(was));
    }

    /** As many as fit. */
    private String fitting(String key, List<String> all) {
        List<String> said = new ArrayList<>(all);
        String text = words.say(key, "what", String.join("; ", said));
        while (!Words.fits(text) && said.size() > 1) {
            said.remove(said.size() - 1);
            text = words.say(key, "what", String.join("; ", said) + "; +" + (all.size() - said.size()));
        }
        return text;
    }

    /** How many flowers or fruit these acts are of: those of one line are of the same. */
    private static String briefly(List<Act> acts) {
        Map<List<Object>, Integer> counts = new LinkedHashMap<>();
        acts.forEach(
                act -> counts.merge(List.of(act.subject(), act.told().line()), Math.max(1, count(act)), Math::max));
        return Integer.toString(
                counts.values().stream().mapToInt(Integer::intValue).sum());
    }

    private List<String> said(List<Act> acts) {
        Map<List<Object>, List<Act>> alike = new LinkedHashMap<>();
        for (Act act : acts) {
            List<Object> key = act.subject() instanceof FruitId
                    ? List.of(act.deed(), act.told().line())
                    : List.of(act.subject(), count(act), act.told().line());
            alike.computeIfAbsent(key, one -> new ArrayList<>()).add(act);
        }
        return alike.values().stream().map(this::together).toList();
    }

    private String together(List<Act> acts) {
        Act first = acts.get(0);
        List<TieNumber> ties = acts.stream()
                .flatMap(act -> act instanceof Act.Tied tied
                        ? tied.ties().stream()
                        : act.subject() instanceof FruitId fruit
                                ? List.of(fruit.tie()).stream()
                                : List.<TieNumber>of().stream())
                .toList();
        int said = ties.isEmpty() ? count(first) : ties.size();
        String deeds = acts.stream()
                .map(act -> words.because(
                        words.deed(act.deed(), said), act instanceof Act.Lost lost ? lost.reason() : null))
                .distinct()
                .collect(Collectors.joining(", "));
        if (first instanceof Act.Finished finished) {
            return words.say("taken.finished", "row", finished.round().row().label());
        }
        String what = ties.isEmpty() ? deeds : deeds + " " + words.ties(ties);
        return first.subject()
                .inRow()
                .map(row -> words.say("taken.row", "row", row.label(), "count", count(first), "what", what))
                .orElse(what);
    }

    private List<String> custody(List<CustodyEvent> events) {
        List<TieNumber> damaged = new ArrayList<>();
        List<String> said = new ArrayList<>();
        for (CustodyEvent event : events) {
            if (event.kind() == CustodyEvent.Kind.DAMAGED) {
                damaged.add(event.ties().first());
            } else {
                said.add(words.say("taken.strip", "strip", event.ties()));
            }
        }
        if (!damaged.isEmpty()) {
            said.add(words.say("taken.damaged", "ties", words.ties(damaged)));
        }
        return said;
    }

    private static int count(Act act) {
        return act instanceof Act.Counted counted ? counted.count() : 0;
    }
}
