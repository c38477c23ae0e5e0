package duskpeg.core.round;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.fruit.TieNumber;
import java.util.List;
import java.util.stream.Stream;

/**
 * A row's round as its crew reported it. The order in which reports arrive does not matter to any of its numbers.
 *
 * @param id the row and its opening morning
 * @param acts the acts that stand, in the order they were heard
 * @param finished who said that it is finished, in the order they were heard
 */
public record Round(RoundId id, List<Act.OnFlowers> acts, List<Act.Finished> finished) {

    public Round {
        acts = List.copyOf(acts);
        finished = List.copyOf(finished);
    }

    /** A round that nobody called finished. */
    public Round(RoundId id, List<Act.OnFlowers> acts) {
        this(id, acts, List.of());
    }

    /** The round that these acts tell of; acts on other subjects are passed over. */
    public static Round of(RoundId id, List<? extends Act> acts) {
        List<Act> standing = Act.standing(acts).stream()
                .filter(act -> act.subject().equals(id))
                .toList();
        return new Round(
                id,
                Act.only(Act.OnFlowers.class, standing).toList(),
                Act.only(Act.Finished.class, standing).toList());
    }

    /** What was reported of one plant of the row. */
    public Round ofPlant(int plant) {
        return new Round(
                id,
                acts.stream()
                        .filter(act -> act.plant() != null && act.plant() == plant)
                        .toList());
    }

    /** Whether any report names a plant. */
    public boolean namesPlants() {
        return acts.stream().anyMatch(act -> act.plant() != null || act.sires() != null);
    }

    /** Whether somebody said that the row is finished. */
    public boolean isFinished() {
        return !finished.isEmpty();
    }

    /** The round in numbers. */
    public Tally tally() {
        return new Tally(
                count(Deed.PEGGED),
                pegged().mapToInt(Round::malesFor).sum(),
                pegged().anyMatch(act -> act.males() == null),
                count(Deed.OPENED),
                count(Deed.POLLINATED),
                count(Deed.BAGGED),
                count(Deed.TIED),
                count(Deed.LOST));
    }

    /** The numbers of its ties, as far as they are known. */
    public List<TieNumber> ties() {
        return Act.only(Act.Tied.class, acts)
                .flatMap(tied -> tied.ties().stream())
                .toList();
    }

    private int count(Deed deed) {
        return acts.stream()
                .filter(act -> act.deed() == deed)
                .mapToInt(Act.OnFlowers::count)
                .sum();
    }

    private Stream<Act.Pegged> pegged() {
        return Act.only(Act.Pegged.class, acts);
    }

    private static int malesFor(Act.Pegged act) {
        Integer males = act.males();
        return males == null ? Tally.MALES_PER_FEMALE * act.count() : males;
    }
}
