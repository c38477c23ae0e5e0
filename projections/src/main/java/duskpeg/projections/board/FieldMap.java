package duskpeg.projections.board;

import duskpeg.core.watch.Watch;
import duskpeg.projections.board.Board.BoardRow;
import duskpeg.projections.board.ForecastView.FinishView;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * The field as it lies: its plantings, and in each the rows by number.
 *
 * @param blocks a block for each planting, by its first row
 */
record FieldMap(List<Block> blocks) {

    FieldMap {
        blocks = List.copyOf(blocks);
    }

    /** A planting on the map. */
    record Block(String planting, String cultivar, List<Cell> cells) {

        Block {
            cells = List.copyOf(cells);
        }
    }

    /** How a row is doing, told by a word and a sign, so that it never hangs on a colour. */
    enum State {
        AT_RISK("at risk", "▲"),
        ASK("ask", "?"),
        PAST_LIMIT("past limit", "✕"),
        CLOSED("do not enter", "⊘"),
        NOT_STARTED("not started", "○"),
        ON_TIME("on time", "●"),
        NO_FORECAST("no forecast", "–"),
        DONE("done", "✓"),
        NOTHING("nothing pegged", "");

        private final String word;
        private final String sign;

        State(String word, String sign) {
            this.word = word;
            this.sign = sign;
        }

        /** The word for it. */
        public String word() {
            return word;
        }

        /** The sign beside it; empty for none. */
        public String sign() {
            return sign;
        }

        /** Its name in a style sheet. */
        public String css() {
            return "is-" + word.replace(' ', '-');
        }
    }

    /**
     * A row on the map.
     *
     * @param row the row as on the board
     * @param state how it is doing
     * @param finish when it will be finished; null where that is not forecast
     * @param who the names of those who reported from it last
     */
    record Cell(BoardRow row, State state, @Nullable FinishView finish, List<String> who) {

        Cell {
            who = List.copyOf(who);
        }

        /** All of it in words. */
        public String says() {
            StringBuilder says = new StringBuilder("Row " + row.row() + ", " + state.word());
            if (state != State.NOTHING) {
                says.append(": ").append(row.tied()).append(" tied");
                if (row.lost() > 0) {
                    says.append(", ").append(row.lost()).append(" lost");
                }
                says.append(", ").append(row.left()).append(" left");
            }
            if (finish != null) {
                says.append(", chance of the limit ").append(finish.getLimitChance());
            }
            return who.isEmpty()
                    ? says.toString()
                    : says.append(", ").append(String.join(" and ", who)).toString();
        }
    }

    /**
     * The map of a board.
     *
     * @param finishes the forecast of rows with work left, by row
     * @param who the names of those who reported last from a row, by row
     * @param closed rows that nobody may enter
     */
    static FieldMap of(
            Board board, Map<String, FinishView> finishes, Map<String, List<String>> who, Set<String> closed) {
        Map<String, List<Cell>> byPlanting = new LinkedHashMap<>();
        for (BoardRow row : board.rows()) {
            FinishView finish = finishes.get(row.row());
            byPlanting
                    .computeIfAbsent(row.planting(), planting -> new ArrayList<>())
                    .add(new Cell(
                            row,
                            state(row, finish, board.isPastLimit(), closed.contains(row.row())),
                            finish,
                            who.getOrDefault(row.row(), List.of())));
        }
        return new FieldMap(byPlanting.entrySet().stream()
                .map(planting -> new Block(
                        planting.getKey(), planting.getValue().get(0).row().cultivar(), planting.getValue()))
                .toList());
    }

    private static State state(BoardRow row, @Nullable FinishView finish, boolean pastLimit, boolean closed) {
        if (row.isQuiet()) {
            return State.NOTHING;
        }
        if (row.left() == 0) {
            return State.DONE;
        }
        if (row.finished()) {
            return State.ASK;
        }
        if (pastLimit) {
            return State.PAST_LIMIT;
        }
        if (closed) {
            return State.CLOSED;
        }
        if (finish != null && finish.isAtRisk()) {
            return State.AT_RISK;
        }
        if (row.opened() + row.pollinated() + row.bagged() + row.tied() == 0) {
            return State.NOT_STARTED;
        }
        return finish == null ? State.NO_FORECAST : State.ON_TIME;
    }

    /** Rows that may well miss the limit, the least likely to make it first. */
    List<Cell> atRisk() {
        return blocks.stream()
                .flatMap(block -> block.cells().stream())
                .filter(cell ->
                        cell.state() == State.AT_RISK || (cell.state() == State.CLOSED && chance(cell) < Watch.AT_RISK))
                .sorted(Comparator.comparing(FieldMap::chance))
                .toList();
    }

    private static double chance(Cell cell) {
        FinishView finish = cell.finish();
        return finish == null ? 1 : finish.byLimit();
    }
}
