package duskpeg.core.round;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieQuestions;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashSet;
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
    private final Rows rows;
    private final List<Question> questions = new ArrayList<>();

    private RoundQuestions(Round round, FarmSettings settings, TieUses uses, Rows rows) {
        this.round = round;
        this.settings = settings;
        this.uses = uses;
        this.rows = rows;
    }

    /** The questions about a round, but for those that need to know of rows and their plants. */
    public static List<Question> of(Round round, FarmSettings settings, TieUses uses) {
        return of(round, settings, uses, Rows.UNKNOWN);
    }

    /** The questions about a round, in the order of the work. */
    public static List<Question> of(Round round, FarmSettings settings, TieUses uses, Rows rows) {
        RoundQuestions asked = new RoundQuestions(round, settings, uses, rows);
        asked.counts();
        asked.hours();
        asked.ties();
        asked.plants();
        asked.sires();
        asked.finished();
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
                for (TieNumber tie : tied.ties()) {
                    questions.addAll(TieQuestions.of(tie, List.of(tied), uses));
                    questions.addAll(TieQuestions.skippedBefore(tie, tied, uses));
                }
            }
        }
    }

    private void plants() {
        Set<List<Object>> asked = new HashSet<>();
        for (Act.OnFlowers act : round.acts()) {
            Integer plant = act.plant();
            if (plant != null && asked.add(List.of(act.told().text(), act.told().line()))) {
                there(new PlantId(round.id().row(), plant), act);
            }
        }
    }

    private void there(PlantId plant, Act act) {
        if (!rows.canHave(plant)) {
            ask(Kind.PLANT_NOT_THERE, act, plant.label(), plant.row().label(), rows.plantsIn(plant.row()));
        }
    }

    private void sires() {
        for (Act.OnFlowers act : round.acts()) {
            List<PlantId> sires = act.sires();
            if (sires != null) {
                sires.stream().distinct().forEach(sire -> sire(sire, act));
                if (sires.size() == 1) {
                    ask(Kind.ONE_SIRE, act, sires.get(0).label());
                } else if (sires.stream().distinct().count() == 1) {
                    ask(Kind.SIRES_ALIKE, act, sires.get(0).label());
                }
            }
        }
    }

    private void sire(PlantId sire, Act.OnFlowers act) {
        RowId row = round.id().row();
        there(sire, act);
        if (sire.row().equals(row) && act.plant() != null && act.plant() == sire.number()) {
            ask(Kind.SIRE_IS_DAM, act, sire.label());
        }
        String own = rows.cultivarOf(row).orElse("");
        String other = rows.cultivarOf(sire.row()).orElse(own);
        if (!own.equals(other)) {
            ask(Kind.SIRE_OF_ANOTHER, act, sire.label(), other, own);
        }
    }

    private void finished() {
        int left = round.tally().left();
        if (round.isFinished() && left > 0) {
            ask(Kind.FINISHED_WITH_LEFT, round.finished(), left);
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
