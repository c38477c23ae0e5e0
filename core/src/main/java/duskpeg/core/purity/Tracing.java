package duskpeg.core.purity;

import static duskpeg.core.purity.Finding.fails;
import static duskpeg.core.purity.Finding.holds;
import static duskpeg.core.purity.Finding.notShown;

import duskpeg.core.act.Act;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.fruit.Evidence;
import duskpeg.core.fruit.Evidence.Grade;
import duskpeg.core.planting.Species;
import duskpeg.core.report.Question;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** The rules about the fruit: whether it is the one that was reported, from the tie to the harvest. */
final class Tracing {

    /** Seed is full at about so many days from pollination, C. argyrosperma at 60 (handbook pages, see decision). */
    private static final int FULL = 55;

    private static final int FULL_ARGYROSPERMA = 60;

    /** Below so many days the seed is taken for unripe: common practice, no published source. */
    private static final int UNRIPE = 45;

    private Tracing() {}

    static Finding tieOfOwnStripUsedOnce(Case fruit) {
        Rule rule = Rule.TIE_OF_OWN_STRIP_USED_ONCE;
        List<Act.Tied> tyings = Act.only(Act.Tied.class, fruit.fruit().acts()).toList();
        String tie = "Tie " + fruit.fruit().id().tie();
        if (tyings.isEmpty()) {
            return notShown(rule, "No report says that " + tie + " was put on.", tyings);
        }
        if (tyings.size() > 1) {
            return fails(rule, Grade.FRUIT, tie + " was reported as put on " + tyings.size() + " times.", tyings);
        }
        WorkerId by = tyings.get(0).told().by();
        Instant at = tyings.get(0).told().done();
        Optional<Holding> holding = fruit.ties().holding(fruit.fruit().id().tie(), at);
        if (holding.isEmpty()) {
            return fails(rule, Grade.FRUIT, tie + " is on no strip that was issued.", tyings);
        }
        Holding.State state = holding.get().stateAt(at);
        if (state != Holding.State.HELD) {
            return fails(rule, Grade.FRUIT, tie + " is of a strip that was " + state.word() + " by then.", tyings);
        }
        WorkerId owner = holding.get().worker();
        return owner.equals(by)
                ? holds(
                        rule,
                        Grade.FRUIT,
                        tie + " is of the strip of " + by.pseudonym() + ", who put it on, once.",
                        tyings)
                : fails(
                        rule,
                        Grade.FRUIT,
                        tie + " is of the strip of " + owner.pseudonym() + ", but " + by.pseudonym() + " put it on.",
                        tyings);
    }

    static Finding twoPeopleBehindIt(Case fruit) {
        Rule rule = Rule.TWO_PEOPLE_BEHIND_IT;
        Set<String> own = people(fruit.evidence().stream()
                .filter(one -> one.grade() == Grade.FRUIT)
                .map(Evidence::act)
                .toList());
        Set<String> all = people(fruit.acts());
        if (all.size() < 2) {
            return notShown(rule, "Fewer than two people reported anything of it or its row.", fruit.acts());
        }
        return own.size() > 1
                ? holds(rule, Grade.FRUIT, String.join(", ", own) + " reported on it.", fruit.acts())
                : holds(rule, Grade.ROW, String.join(", ", all) + " reported on it or its row.", fruit.acts());
    }

    private static Set<String> people(Collection<? extends Act> acts) {
        return acts.stream().map(act -> act.told().by().pseudonym()).collect(Collectors.toCollection(TreeSet::new));
    }

    static Finding noOpenQuestions(Case fruit) {
        Rule rule = Rule.NO_OPEN_QUESTIONS;
        List<Question> questions = fruit.questions();
        return questions.isEmpty()
                ? holds(rule, Grade.FRUIT, "Nothing is asked about it.", fruit.acts())
                : fails(
                        rule,
                        Grade.ROW,
                        "Still asked: "
                                + questions.stream()
                                        .map(Question::sentence)
                                        .distinct()
                                        .collect(Collectors.joining("; "))
                                + ".",
                        fruit.acts().stream()
                                .filter(act -> questions.stream()
                                        .anyMatch(question -> question.texts()
                                                .contains(act.told().text())))
                                .toList());
    }

    static Finding tiedAtHarvest(Case fruit) {
        Rule rule = Rule.TIED_AT_HARVEST;
        List<Act.Culled> culled = fruit.ofFruit(Act.Culled.class);
        if (!culled.isEmpty()) {
            return fails(rule, Grade.FRUIT, "It was reported as cut off.", culled);
        }
        List<Act.Harvested> harvested = fruit.ofFruit(Act.Harvested.class);
        return harvested.isEmpty()
                ? notShown(rule, "No report says that it was brought in.", List.of())
                : holds(rule, Grade.FRUIT, "It was brought in by its tie number.", harvested);
    }

    static Finding matureAtHarvest(Case fruit) {
        Rule rule = Rule.MATURE_AT_HARVEST;
        Act.Tied tied = fruit.tying().orElse(null);
        List<Act.Harvested> harvested = fruit.ofFruit(Act.Harvested.class);
        if (tied == null || harvested.isEmpty()) {
            return notShown(rule, "Not both its tying and its harvest were reported.", harvested);
        }
        Act.Harvested last = harvested.get(harvested.size() - 1);
        long days = ChronoUnit.DAYS.between(
                tied.round().morning(), fruit.settings().dateAt(last.told().done()));
        List<Act> read = List.of(tied, last);
        String said = "Brought in " + days + " days after its flower opened";
        int full = full(fruit.species());
        if (days < UNRIPE) {
            return fails(rule, Grade.FRUIT, said + ": seed is taken for unripe under " + UNRIPE + ".", read);
        }
        return days < full
                ? notShown(rule, said + ": seed is full at about " + full + ".", read)
                : holds(rule, Grade.FRUIT, said + ".", read);
    }

    private static int full(@Nullable Species species) {
        return species == Species.ARGYROSPERMA ? FULL_ARGYROSPERMA : FULL;
    }
}
