package duskpeg.core.purity;

import static duskpeg.core.purity.Finding.fails;
import static duskpeg.core.purity.Finding.holds;
import static duskpeg.core.purity.Finding.notShown;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.fruit.Evidence.Grade;
import duskpeg.core.planting.PlantId;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The rules about the flower, from the evening to the tie. What they ask is common practice, no published source. */
final class Flowering {

    /** What one worker reports of a row within so long is one visit: our own rule, no source. */
    private static final Duration ONE_VISIT = Duration.ofMinutes(30);

    private Flowering() {}

    static Finding peggedTheEveningBefore(Case fruit) {
        Rule rule = Rule.PEGGED_THE_EVENING_BEFORE;
        Round round = fruit.round();
        if (round == null) {
            return notShown(rule, "No report says where this tie was put on.", List.of());
        }
        LocalDate morning = round.id().morning();
        Instant midnight = morning.atStartOfDay(fruit.settings().zone()).toInstant();
        List<Act.Pegged> evening = fruit.ofRow(Act.Pegged.class).stream()
                .filter(act -> act.told().done().isBefore(midnight))
                .toList();
        Tally tally = round.tally();
        int pegged = evening.stream().mapToInt(Act.Pegged::count).sum();
        if (pegged == 0) {
            return notShown(
                    rule,
                    "No report of pegging the evening before stands for " + fruit.where() + ".",
                    fruit.ofRow(Act.Pegged.class));
        }
        List<Act> read = new ArrayList<>(evening);
        read.addAll(fruit.ofRow(Act.Tied.class));
        read.addAll(fruit.ofRow(Act.Lost.class));
        String counts = pegged + " pegged in " + fruit.where() + " the evening before, " + tally.tied() + " tied and "
                + tally.lost() + " lost";
        return tally.tied() + tally.lost() <= pegged
                ? holds(rule, Grade.ROW, counts + ".", read)
                : notShown(rule, counts + ": some flower was not one of those pegged, and it may be this one.", read);
    }

    static Finding stillShutInTheMorning(Case fruit) {
        Rule rule = Rule.STILL_SHUT_IN_THE_MORNING;
        List<Act.Opened> own = fruit.ofFruit(Act.Opened.class);
        if (!own.isEmpty()) {
            return holds(
                    rule, Grade.FRUIT, "It was opened by hand by " + who(own) + ", so it was shut until then.", own);
        }
        return byCounts(
                fruit, rule, Deed.OPENED, fruit.ofRow(Act.Opened.class), "opened by hand", "was opened by hand");
    }

    static Finding malesPegged(Case fruit) {
        Rule rule = Rule.MALES_PEGGED;
        List<Act.Pegged> pegged = fruit.ofRow(Act.Pegged.class);
        Round round = fruit.round();
        if (round == null || pegged.isEmpty()) {
            return notShown(rule, "No report of pegging stands for " + fruit.where() + ".", pegged);
        }
        Tally tally = round.tally();
        if (tally.malesAssumed()) {
            return notShown(rule, "Not every report of pegging in " + fruit.where() + " says how many males.", pegged);
        }
        String counts = tally.males() + " males pegged for " + tally.pegged() + " females in " + fruit.where();
        return tally.malesShort() == 0
                ? holds(rule, Grade.ROW, counts + ".", pegged)
                : notShown(
                        rule, counts + ": " + tally.malesShort() + " short, and this one may be one of those.", pegged);
    }

    static Finding malesOfTwoOtherPlants(Case fruit) {
        Rule rule = Rule.MALES_OF_TWO_OTHER_PLANTS;
        List<Act.Pollinated> named = fruit.ofFruit(Act.Pollinated.class).stream()
                .filter(act -> act.sires() != null)
                .toList();
        Set<PlantId> sires = named.stream()
                .flatMap(act -> Stream.ofNullable(act.sires()).flatMap(List::stream))
                .collect(Collectors.toCollection(LinkedHashSet::new));
        if (sires.isEmpty()) {
            return notShown(rule, "No report names the plants of its males.", named);
        }
        String from = "Its males are from " + sires.stream().map(PlantId::label).collect(Collectors.joining(" and "));
        PlantId dam = fruit.fruit().plant().orElse(null);
        List<Act> read = new ArrayList<>(named);
        fruit.tying().ifPresent(read::add);
        if (dam != null && sires.contains(dam)) {
            return fails(rule, Grade.FRUIT, from + ", and it hangs on " + dam.label() + " itself.", read);
        }
        if (sires.size() < 2) {
            return notShown(rule, from + " alone, as far as was reported.", named);
        }
        return dam == null
                ? notShown(rule, from + ", but no report names the plant it hangs on.", read)
                : holds(rule, Grade.FRUIT, from + ", and it hangs on " + dam.label() + ".", read);
    }

    static Finding pollinatedInTheWindow(Case fruit) {
        Rule rule = Rule.POLLINATED_IN_THE_WINDOW;
        Round round = fruit.round();
        if (round == null) {
            return notShown(rule, "No report says where this tie was put on.", List.of());
        }
        List<Act.Pollinated> own = fruit.ofFruit(Act.Pollinated.class);
        List<Act.Pollinated> late = late(fruit, own);
        String hour = fruit.settings().limit().toString();
        if (!late.isEmpty()) {
            return fails(rule, Grade.FRUIT, "It was pollinated after the farm's limit of " + hour + ".", late);
        }
        if (!own.isEmpty()) {
            return holds(
                    rule,
                    Grade.FRUIT,
                    "It was pollinated by " + who(own) + " before the farm's limit of " + hour + ".",
                    own);
        }
        List<Act.Pollinated> all = fruit.ofRow(Act.Pollinated.class);
        List<Act.Pollinated> lateInRow = late(fruit, all);
        if (!lateInRow.isEmpty()) {
            return notShown(
                    rule,
                    "Some of " + fruit.where() + " were pollinated after the farm's limit of " + hour
                            + ", and it may be one of those.",
                    lateInRow);
        }
        return byCounts(
                fruit, rule, Deed.POLLINATED, all, "pollinated before " + hour, "was pollinated before " + hour);
    }

    private static List<Act.Pollinated> late(Case fruit, List<Act.Pollinated> acts) {
        return acts.stream()
                .filter(act -> act.told()
                        .done()
                        .isAfter(fruit.settings().limitOn(act.round().morning())))
                .toList();
    }

    static Finding baggedAndTiedInOneVisit(Case fruit) {
        Rule rule = Rule.BAGGED_AND_TIED_IN_ONE_VISIT;
        Act.Tied tied = fruit.tying().orElse(null);
        if (tied == null) {
            return notShown(rule, "No report says where this tie was put on.", List.of());
        }
        List<Act.Bagged> own = fruit.ofFruit(Act.Bagged.class).stream()
                .filter(act -> act.told().sameLine(tied.told()))
                .toList();
        if (!own.isEmpty()) {
            return holds(
                    rule,
                    Grade.FRUIT,
                    "Bag and tie were reported together by " + who(own) + ".",
                    List.of(own.get(0), tied));
        }
        List<Act.Bagged> sameVisit = fruit.ofRow(Act.Bagged.class).stream()
                .filter(act -> act.told().by().equals(tied.told().by())
                        && Duration.between(act.told().done(), tied.told().done())
                                        .abs()
                                        .compareTo(ONE_VISIT)
                                <= 0)
                .toList();
        int bagged = sameVisit.stream().mapToInt(Act.Bagged::count).sum();
        List<Act> read = new ArrayList<>(sameVisit);
        read.add(tied);
        if (bagged >= tied.count() && fruit.strays(Deed.BAGGED) <= 0) {
            return holds(
                    rule,
                    Grade.ROW,
                    who(sameVisit) + " reported " + bagged + " bagged and " + tied.count() + " tied in " + fruit.where()
                            + " within " + ONE_VISIT.toMinutes() + " minutes.",
                    read);
        }
        return notShown(rule, "No report shows that it was bagged in the visit in which it was tied.", read);
    }

    /** Whether at least as many flowers of the row had something done to them as were tied. */
    private static Finding byCounts(
            Case fruit, Rule rule, Deed deed, List<? extends Act.OnFlowers> acts, String done, String was) {
        Round round = fruit.round();
        if (round == null || acts.isEmpty()) {
            return notShown(rule, "No report shows that it " + was + ".", acts);
        }
        int count = acts.stream().mapToInt(Act.OnFlowers::count).sum();
        String counts = count + " " + done + " in " + fruit.where() + ", "
                + round.tally().tied() + " tied";
        List<Act> read = new ArrayList<>(acts);
        read.addAll(fruit.ofRow(Act.Tied.class));
        return fruit.strays(deed) <= 0
                ? holds(rule, Grade.ROW, counts + ".", read)
                : notShown(rule, counts + ": some flower was not, and it may be this one.", read);
    }

    private static String who(List<? extends Act> acts) {
        return acts.get(0).told().by().pseudonym();
    }
}
