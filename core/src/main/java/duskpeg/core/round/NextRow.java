package duskpeg.core.round;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.crew.WorkerId;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Which row a worker should go to next.
 *
 * @param round the row's round
 * @param others who else is in that row, in the order they were first heard from it
 */
public record NextRow(Round round, List<WorkerId> others) {

    /** Who has not been heard of for longer has gone on; common practice, no source. */
    public static final Duration A_WHILE = Duration.ofMinutes(30);

    public NextRow {
        others = List.copyOf(others);
    }

    /**
     * The row with most left among those from which nobody else was heard for a while; where there is none, the one
     * with most left for each who is there, herself counted in. Of equals the one with the lower number.
     *
     * @param rounds the rounds of the morning
     * @param asking who asks
     * @param now when she asks
     * @return empty where nothing is left in any of them
     */
    public static Optional<NextRow> of(Collection<Round> rounds, WorkerId asking, Instant now) {
        return rounds.stream()
                .filter(round -> round.tally().left() > 0)
                .map(round -> new NextRow(round, others(round, asking, now)))
                .min(Comparator.comparing((NextRow next) -> !next.others().isEmpty())
                        .thenComparing(NextRow::leftForEach, Comparator.reverseOrder())
                        .thenComparing(
                                next -> Integer.valueOf(next.round().id().row().label())));
    }

    private static List<WorkerId> others(Round round, WorkerId asking, Instant now) {
        return round.acts().stream()
                .filter(act -> act.deed().ofTheVisit() || act.deed() == Deed.LOST)
                .map(Act::told)
                .filter(told -> told.heard().isAfter(now.minus(A_WHILE)))
                .map(told -> told.by())
                .filter(by -> !by.equals(asking))
                .distinct()
                .toList();
    }

    private double leftForEach() {
        return (double) round.tally().left() / (others.size() + 1);
    }
}
