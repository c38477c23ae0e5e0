package duskpeg.core.fruit;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.Worded;
import duskpeg.core.planting.PlantId;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * A tied fruit as it was reported: the acts that name its tie.
 *
 * @param id the fruit
 * @param acts the acts that stand: {@link Act.Tied} with its number, {@link Act.Unbagged}, {@link Act.Culled},
 *     {@link Act.Harvested}, in the order they were heard
 */
public record Fruit(FruitId id, List<Act> acts) {

    public Fruit {
        acts = List.copyOf(acts);
    }

    /** How far a fruit has come. */
    public enum State implements Worded {
        TIED,
        CULLED,
        HARVESTED;
    }

    /** The fruit that these acts tell of; acts that do not name its tie are passed over. */
    public static Fruit of(FruitId id, List<? extends Act> acts) {
        return new Fruit(
                id,
                Act.standing(acts).stream()
                        .filter(act -> names(act, id))
                        .sorted(Comparator.comparing(act -> act.told().heard()))
                        .toList());
    }

    private static boolean names(Act act, FruitId id) {
        return act.subject().equals(id)
                || (act instanceof Act.Tied tied && tied.ties().contains(id.tie()));
    }

    /**
     * How far it has come, by the act done last; empty where no standing act names it. A bag that is taken off changes
     * nothing about it.
     */
    public Optional<State> state() {
        return acts.stream()
                .reduce((one, next) -> next instanceof Act.Unbagged
                                || (!(one instanceof Act.Unbagged)
                                        && next.told()
                                                .done()
                                                .isBefore(one.told().done()))
                        ? one
                        : next)
                .map(last -> switch (last.deed()) {
                    case HARVESTED -> State.HARVESTED;
                    case CULLED -> State.CULLED;
                    default -> State.TIED;
                });
    }

    /** The plant it hangs on; empty where its tying did not say. */
    public Optional<PlantId> plant() {
        return tying().flatMap(tied -> Optional.ofNullable(tied.plant())
                .map(plant -> new PlantId(tied.round().row(), plant)));
    }

    /** The report of its tying; the latest where there are several. */
    public Optional<Act.Tied> tying() {
        return Act.only(Act.Tied.class, acts).reduce((earlier, later) -> later);
    }

    /** What must be asked about it. */
    public List<Question> questions(TieUses uses) {
        List<Question> questions = new ArrayList<>();
        List<Act.Tied> tyings = Act.only(Act.Tied.class, acts).toList();
        if (tyings.isEmpty() && !acts.isEmpty()) {
            questions.add(Question.of(Kind.TIE_NOT_REPORTED, acts, id.tie()));
        }
        questions.addAll(TieQuestions.of(id.tie(), acts, uses));
        List<Act> harvested = of(Deed.HARVESTED);
        List<Act> culled = of(Deed.CULLED);
        if (harvested.size() > 1) {
            questions.add(Question.of(Kind.HARVESTED_TWICE, harvested, id.tie(), harvested.size()));
        }
        if (!harvested.isEmpty() && !culled.isEmpty()) {
            questions.add(Question.of(
                    Kind.CULLED_AND_HARVESTED,
                    acts.stream()
                            .filter(act -> act.deed() == Deed.CULLED || act.deed() == Deed.HARVESTED)
                            .toList(),
                    id.tie()));
        }
        tying().ifPresent(tied -> Act.only(Act.OnFruit.class, acts)
                .forEach(act -> rowDiffers(act, tied).ifPresent(questions::add)));
        return List.copyOf(questions);
    }

    private Optional<Question> rowDiffers(Act.OnFruit act, Act.Tied tied) {
        return Optional.ofNullable(act.rowSaid())
                .filter(said -> !said.equals(tied.round().row()))
                .map(said -> Question.of(
                        Kind.ROW_DIFFERS,
                        List.of(act, tied),
                        said.label(),
                        id.tie(),
                        tied.round().row().label()));
    }

    private List<Act> of(Deed deed) {
        return acts.stream().filter(act -> act.deed() == deed).toList();
    }
}
