package duskpeg.core.fieldbook;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Statement;
import duskpeg.core.round.RoundId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Takes back, in one message, what its worker said before: of a line in which she was wrong in part, the rest is told
 * anew. Nobody takes back what another said.
 */
final class TakingBack {

    /** The pages of the field book. */
    interface Pages {

        /** All that was ever written down about a subject. */
        List<Act> acts(Subject subject);

        /** Writes an act down. */
        void write(Act act);
    }

    private final WorkerId worker;
    private final TextId message;
    private final Pages pages;
    private int nextLine;

    /**
     * @param message the message that takes back
     * @param lines how many lines it has: what is told anew is not of one of them
     */
    TakingBack(WorkerId worker, TextId message, int lines, Pages pages) {
        this.worker = worker;
        this.message = message;
        this.pages = pages;
        this.nextLine = lines;
    }

    /**
     * Takes back so many of what she said last, going back through lines of the same acts.
     *
     * @param subjects where it may be, what she spoke of last first
     */
    Entry.OfTakeBack part(List<Subject> subjects, Statement.TakeBackPart part, Told told) {
        List<Act> taken = new ArrayList<>();
        List<Act> stands = new ArrayList<>();
        Integer plant = part.plant();
        Integer count = part.count();
        for (Subject subject : subjects) {
            List<SaidLine> lines = before(subject).stream()
                    .filter(line -> line.count() > 0 && (plant == null || line.isOfPlant(plant)))
                    .toList();
            Set<Deed> deeds = SaidLine.last(lines).map(SaidLine::deeds).orElse(Set.of());
            int left = count == null ? SaidLine.last(lines).map(SaidLine::count).orElse(0) : count;
            for (int i = lines.size() - 1; i >= 0 && left > 0; i--) {
                SaidLine line = lines.get(i);
                if (line.deeds().equals(deeds)) {
                    int kept = Math.max(0, line.count() - left);
                    left -= line.count() - kept;
                    replace(line, kept(line, kept, told), told, taken, stands);
                }
            }
            if (!taken.isEmpty()) {
                break;
            }
        }
        return new Entry.OfTakeBack(taken, stands);
    }

    /** Takes back what she said last of each tie; the other flowers of its line stay. */
    Entry.OfTakeBack ties(Map<TieNumber, List<RoundId>> rounds, FruitIds fruit, Told told) {
        List<Act> taken = new ArrayList<>();
        List<Act> stands = new ArrayList<>();
        Map<List<Object>, SaidLine> tyings = new LinkedHashMap<>();
        Map<List<Object>, List<TieNumber>> off = new HashMap<>();
        rounds.forEach((tie, tiedIn) -> {
            List<SaidLine> lines = new ArrayList<>(before(fruit.of(tie)));
            tiedIn.stream()
                    .distinct()
                    .flatMap(round -> before(round).stream())
                    .filter(line -> line.ties().contains(tie))
                    .forEach(lines::add);
            lines.stream()
                    .max(Comparator.comparing((SaidLine line) -> line.told().heard())
                            .thenComparing(SaidLine::line))
                    .ifPresent(line -> {
                        if (line.ties().isEmpty()) {
                            replace(line, List.of(), told, taken, stands);
                        } else {
                            List<Object> key = List.of(line.subject(), line.text(), line.line());
                            tyings.putIfAbsent(key, line);
                            off.computeIfAbsent(key, unseen -> new ArrayList<>())
                                    .add(tie);
                        }
                    });
        });
        tyings.forEach((key, line) ->
                replace(line, without(line, off.getOrDefault(key, List.of()), told), told, taken, stands));
        return new Entry.OfTakeBack(taken, stands);
    }

    /** Makes the fruit of a tie. */
    interface FruitIds {
        FruitId of(TieNumber tie);
    }

    /** The line that a correction is about. */
    Optional<SaidLine> corrected(List<? extends Subject> subjects, Collection<Deed> deeds) {
        return subjects.stream()
                .flatMap(subject -> SaidLine.correctedBy(before(subject), deeds).stream())
                .findFirst();
    }

    /** Takes a whole line back. */
    void drop(SaidLine line, Told told) {
        boolean othersStand = Act.standing(pages.acts(line.subject())).stream()
                .anyMatch(act ->
                        act.told().text().equals(line.text()) && act.told().line() != line.line());
        pages.write(new Act.TakenBack(line.subject(), line.text(), othersStand ? line.line() : null, told));
    }

    /** Her lines of earlier messages, in the order they were heard. */
    private List<SaidLine> before(Subject subject) {
        return SaidLine.by(worker, subject, pages.acts(subject)).stream()
                .filter(line -> !line.text().equals(message))
                .toList();
    }

    private void replace(SaidLine line, List<Act> kept, Told told, List<Act> taken, List<Act> stands) {
        drop(line, told);
        kept.forEach(pages::write);
        stands.addAll(kept);
        for (Act act : line.acts()) {
            Optional<Act> rest =
                    kept.stream().filter(one -> one.deed() == act.deed()).findFirst();
            taken.add(rest.isPresent() ? difference(act, rest.get()) : act);
        }
    }

    private List<Act> kept(SaidLine line, int count, Told told) {
        Told anew = anew(line, told);
        return Act.only(Act.Counted.class, line.acts())
                .filter(act -> count > 0)
                .<Act>map(act -> act.again(Math.min(count, act.count()), anew))
                .toList();
    }

    private List<Act> without(SaidLine line, List<TieNumber> off, Told told) {
        int count = line.count() - off.size();
        Told anew = anew(line, told);
        return Act.only(Act.OnFlowers.class, line.acts())
                .filter(act -> count > 0)
                .<Act>map(act -> act instanceof Act.Tied tied
                        ? tied.with(tied.ties().stream()
                                        .filter(tie -> !off.contains(tie))
                                        .toList())
                                .again(count, anew)
                        : act.again(count, anew))
                .toList();
    }

    /** It was done when it was done, but it is told now. Each line has a number of its own, so that no two are mixed. */
    private Told anew(SaidLine line, Told told) {
        return new Told(worker, line.told().done(), told.heard(), message, ++nextLine, told.seal());
    }

    private static Act difference(Act was, Act rest) {
        int count = ((Act.Counted) was).count() - ((Act.Counted) rest).count();
        Act.Counted gone = ((Act.Counted) was).again(count, was.told());
        return was instanceof Act.Tied tied && gone instanceof Act.Tied fewer
                ? fewer.with(tied.ties().stream()
                        .filter(tie -> !((Act.Tied) rest).ties().contains(tie))
                        .toList())
                : gone;
    }
}
