package duskpeg.projections.board;

import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Strip;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.round.Round;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * What was known of ties at an earlier time: in how many reports a tie was put on counts this morning as it was known
 * then, and mornings before it. In whose hands strips were, and what is damaged or skipped, is as known today.
 */
final class UsesThen implements TieUses {

    private final Index index;
    private final TieUses today;
    private final LocalDate morning;
    private final Map<TieNumber, Long> here;
    private final List<Round> rounds;

    /**
     * @param rounds the morning's rounds as they were known then
     */
    UsesThen(Index index, TieUses today, LocalDate morning, List<Round> rounds) {
        this.index = index;
        this.today = today;
        this.morning = morning;
        this.rounds = List.copyOf(rounds);
        this.here = rounds.stream()
                .flatMap(round -> round.ties().stream())
                .collect(Collectors.groupingBy(Function.identity(), Collectors.counting()));
    }

    @Override
    public Optional<Holding> holding(TieNumber tie, Instant at) {
        return today.holding(tie, at);
    }

    @Override
    public int times(TieNumber tie) {
        int times = here.getOrDefault(tie, 0L).intValue();
        if (today.times(tie) < 2) {
            return times;
        }
        return times
                + (int)
                        rounds.stream()
                                .findFirst()
                                .map(round -> index.roundsOf(round.id().farm(), tie))
                                .orElse(List.of())
                                .stream()
                                .filter(round -> round.morning().isBefore(morning))
                                .count();
    }

    @Override
    public boolean isDamaged(TieNumber tie) {
        return today.isDamaged(tie);
    }

    @Override
    public Optional<Strip> skippedBefore(TieNumber tie) {
        return today.skippedBefore(tie);
    }
}
