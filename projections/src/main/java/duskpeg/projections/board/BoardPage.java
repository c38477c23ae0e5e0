package duskpeg.projections.board;

import java.time.OffsetDateTime;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * A board as people see it.
 *
 * @param board its numbers
 * @param forecast when it will be finished
 * @param map the field as it lies
 * @param atRisk rows that may well miss the limit
 * @param places who reported last from where
 * @param curve flowers tied against time; null where there are none to tie
 * @param cautions what to beware of at that time, in a sentence each
 * @param parked how many acts on the farm's rounds are not on any board because the program could not take them
 * @param asKnownAt the time as of which it is shown; null where it is shown as things stand
 */
record BoardPage(
        Board board,
        ForecastView forecast,
        FieldMap map,
        List<FieldMap.Cell> atRisk,
        List<Place> places,
        @Nullable Curve curve,
        List<String> cautions,
        int parked,
        @Nullable OffsetDateTime asKnownAt) {

    BoardPage {
        atRisk = List.copyOf(atRisk);
        places = List.copyOf(places);
        cautions = List.copyOf(cautions);
    }

    /**
     * Where somebody reported from last.
     *
     * @param name her name, or her pseudonym once that was erased
     * @param row the row
     * @param time when what she said was done, farm time
     * @param silent whether she is more likely gone than at work, by how long she has been silent
     */
    record Place(String name, String row, String time, boolean silent) {}

    /** Whom to ask about the flowers that are left: who reported last from their rows. */
    public String getWhomToAsk() {
        Set<String> open = board.rows().stream()
                .filter(row -> row.left() > 0)
                .map(Board.BoardRow::row)
                .collect(Collectors.toSet());
        List<String> names = places.stream()
                .filter(place -> open.contains(place.row()))
                .map(place -> place.name() + " (row " + place.row() + ")")
                .toList();
        return names.isEmpty() ? "the crew" : String.join(", ", names);
    }

    /** Whether the morning's day is over. */
    public boolean isPassed() {
        return board.now().toLocalDate().isAfter(board.morning());
    }

    /** Whether the morning is further off than tomorrow. */
    public boolean isLater() {
        return board.now().toLocalDate().plusDays(1).isBefore(board.morning());
    }

    /** Whether nothing was reported of it. */
    public boolean isNothing() {
        return board.rows().stream().allMatch(Board.BoardRow::isQuiet);
    }
}
