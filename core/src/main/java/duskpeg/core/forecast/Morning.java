package duskpeg.core.forecast;

import duskpeg.core.round.Round;
import java.time.LocalDate;
import java.util.List;

/**
 * The rounds of one morning, as far as they are known.
 *
 * @param date the opening morning
 * @param rounds a round for each row, in the order in which the rows lie
 */
public record Morning(LocalDate date, List<Round> rounds) {

    public Morning {
        rounds = List.copyOf(rounds);
    }
}
