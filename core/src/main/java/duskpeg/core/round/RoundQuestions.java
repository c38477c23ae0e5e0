package duskpeg.core.round;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieQuestions;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/** What must be asked about a round. A pure function of what was reported, so it never depends on the order. */
public final class RoundQuestions {

    private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

    private final Round round;
    private final FarmSettings settings;
    private final TieUses uses;
    private final List<Question> questions = new ArrayList<>();

    private RoundQuestions(Round round, FarmSettings settings, TieUses uses) {
        this.round = round;
        this.settings = settings;
        this.uses = uses;
    }

    /** The questions about a round, in the order of the work. */
    public static List<Question> of(Round round, FarmSettings settings, TieUses uses) {
        RoundQuestions asked = new RoundQuestions(round, settings, uses);
        asked.counts();
        asked.hours();
        asked.ties();
        return List.copyOf(asked.questions);
    }

    private void counts() {
        Tally tally = round.tally();
        if (tally.malesShort() > 0) {
            ask(Kind.MALES_SHORT, EnumSet.of(Deed.PEGGED), tally.males(), tally.pegged(), tally.malesShort());
        }
        over(Kind.OPENED_OVER_PEGGED, Deed.OPENED, tally.opened(), Deed.PEGGED, tally.pegged());
        over(Kind.POLLINATED_OVER_OPENED, Deed.POLLINATED, tally.pollinated(), Deed.OPENED, tally.opened());
        over(Kind.BAGGED_OVER_POLLINATED, Deed.BAGGED, tally.bagged(), Deed.POLLINATED, tally.pollinated());
        over(Kind.TIED_OVER_BAGGED, Deed.TIED, tally.tied(), Deed.BAGGED, tally.bagged());
        if (tally.lost() > 0 && tally.tied() + tally.lost() > tally.pegged()) {
            ask(
                    Kind.MORE_THAN_PEGGED,
                    EnumSet.of(Deed.PEGGED, Deed.TIED, Deed.LOST),
                    tally.tied(),
                    tally.lost(),
                    tally.pegged());
        }
    }

    private void over(Kind kind, Deed later, int laterCount, Deed earlier, int earlierCount) {
        if (laterCount > earlierCount) {
            ask(kind, EnumSet.of(later, earlier), laterCount, earlierCount);
        }
    }

    private void hours() {
        Instant limit = settings.limitOn(round.id().morning());
        Map<List<Object>, List<Act.OnFlowers>> late = round.acts().stream()
                .filter(act -> act.deed().ofTheVisit() && act.told().done().isAfter(limit))
                .collect(Collectors.groupingBy(
                        act -> List.of(act.told().text(), act.told().line()), LinkedHashMap::new, Collectors.toList()));
        for (List<Act.OnFlowers> line : late.values()) {
            Act.OnFlowers act = line.get(0);
            ask(
                    Kind.AFTER_LIMIT,
                    act,
                    act.count(),
                    line.stream().map(one -> one.deed().word()).collect(Collectors.joining(", ")),
                    CLOCK.format(act.told().done().atZone(settings.zone())),
                    CLOCK.format(settings.limit()));
        }
    }

    private void ties() {
        for (Act.OnFlowers act : round.acts()) {
            if (act instanceof Act.Tied tied) {
                Act.Tied.Disagreement disagreement = tied.disagreement();
                if (disagreement != null) {
                    TieNumber counted = disagreement.counted();
                    ask(
                            Kind.LAST_NUMBER_DIFFERS,
                            tied,
                            tied.count(),
                            disagreement.read(),
                            counted == null ? "-" : counted);
                } else if (tied.ties().size() < tied.count()) {
                    ask(Kind.STRIP_TOO_SHORT, tied, tied.count(), tied.ties().size());
                }
                tied.ties().forEach(tie -> questions.addAll(TieQuestions.of(tie, List.of(tied), uses)));
            }
        }
    }

    private void ask(Kind kind, Set<Deed> readFrom, Object... values) {
        ask(
                kind,
                round.acts().stream()
                        .filter(act -> readFrom.contains(act.deed()))
                        .toList(),
                values);
    }

    private void ask(Kind kind, Act readFrom, Object... values) {
        ask(kind, List.of(readFrom), values);
    }

    private void ask(Kind kind, List<? extends Act> readFrom, Object... values) {
        questions.add(Question.of(kind, readFrom, values));
    }
}
