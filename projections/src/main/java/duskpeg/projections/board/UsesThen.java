package duskpeg.projections.board;

import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.round.Round;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/** How often ties were put on, as it was known at an earlier time. */
final class UsesThen {

    private UsesThen() {}

    /**
     * What was known of ties at an earlier time: in how many reports a tie was put on counts this morning as it was known
     * then, and mornings before it. In whose hands strips were, and what is damaged or skipped, is as known today.
     *
     * @param rounds the morning's rounds as they were known then
     */
    static TieUses of(Index index, TieUses today, LocalDate morning, List<Round> rounds) {
        Map<TieNumber, Long> here = rounds.stream()
                .flatMap(round -> round.ties().stream())
                .collect(Collectors.groupingBy(Function.identity(), Collectors.counting()));
        return today.counting(tie -> {
            int times = here.getOrDefault(tie, 0L).intValue();
            if (today.times(tie) < 2) {
                return times;
            }
            return times
                    + (int) rounds.stream()
                            .findFirst()
                            .map(round -> index.roundsOf(round.id().farm(), tie))
                            .orElse(List.of())
                            .stream()
                            .filter(round -> round.morning().isBefore(morning))
                            .count();
        });
    }
}
