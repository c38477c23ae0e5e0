package duskpeg.projections.board;

import com.fasterxml.jackson.annotation.JsonIgnore;
import duskpeg.projections.QuestionView;
import java.time.Duration;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;

/**
 * The board of one morning, as shown and as published.
 *
 * @param farm the farm's id
 * @param morning the opening morning
 * @param now when it was read, farm time
 * @param target when the work should be finished, farm time
 * @param limit the cut-off, farm time
 * @param rows every row of the farm, by number
 */
public record Board(
        String farm,
        LocalDate morning,
        OffsetDateTime now,
        OffsetDateTime target,
        OffsetDateTime limit,
        List<BoardRow> rows) {

    public Board {
        rows = List.copyOf(rows);
    }

    /**
     * A row's round in numbers.
     *
     * @param row the row
     * @param planting the planting it belongs to
     * @param cultivar the cultivar
     * @param pegged females pegged
     * @param males males pegged for them; two for each female where a report did not say
     * @param malesAssumed whether any of {@code males} was not said
     * @param opened opened
     * @param pollinated pollinated
     * @param bagged bagged
     * @param tied tied
     * @param lost not used for seed
     * @param left still to be tied
     * @param finished whether the crew said that nothing is left to do in it
     * @param questions what must be asked
     */
    public record BoardRow(
            String row,
            String planting,
            String cultivar,
            int pegged,
            int males,
            boolean malesAssumed,
            int opened,
            int pollinated,
            int bagged,
            int tied,
            int lost,
            int left,
            boolean finished,
            List<QuestionView> questions) {

        public BoardRow {
            questions = List.copyOf(questions);
        }

        /** Whether anything was reported of it. */
        @JsonIgnore
        public boolean isQuiet() {
            return !finished && pegged + opened + pollinated + bagged + tied + lost == 0;
        }

        /** Tied, in hundredths of what was pegged, 0 to 100. */
        @JsonIgnore
        public int getTiedPercent() {
            return percent(tied);
        }

        /** Lost, in hundredths of what was pegged, 0 to 100 less what is tied. */
        @JsonIgnore
        public int getLostPercent() {
            return Math.min(100 - getTiedPercent(), percent(lost));
        }

        private int percent(int part) {
            return pegged == 0 ? 0 : Math.min(100, 100 * part / pegged);
        }
    }

    /** Flowers pegged on the whole farm. */
    @JsonIgnore
    public int getPegged() {
        return rows.stream().mapToInt(BoardRow::pegged).sum();
    }

    /** Flowers tied on the whole farm. */
    @JsonIgnore
    public int getTied() {
        return rows.stream().mapToInt(BoardRow::tied).sum();
    }

    /** Flowers lost on the whole farm. */
    @JsonIgnore
    public int getLost() {
        return rows.stream().mapToInt(BoardRow::lost).sum();
    }

    /** Flowers left on the whole farm. */
    @JsonIgnore
    public int getLeft() {
        return rows.stream().mapToInt(BoardRow::left).sum();
    }

    /** Rows with something left. */
    @JsonIgnore
    public long getRowsLeft() {
        return rows.stream().filter(row -> row.left() > 0).count();
    }

    /** Questions on the whole farm. */
    @JsonIgnore
    public int getQuestions() {
        return rows.stream().mapToInt(row -> row.questions().size()).sum();
    }

    /** How long to the target, for people. */
    @JsonIgnore
    public String getToTarget() {
        return countdown(target);
    }

    /** How long to the limit, for people. */
    @JsonIgnore
    public String getToLimit() {
        return countdown(limit);
    }

    /** Whether the limit has passed. */
    @JsonIgnore
    public boolean isPastLimit() {
        return !now.isBefore(limit);
    }

    /** Whether the target has passed. */
    @JsonIgnore
    public boolean isPastTarget() {
        return !now.isBefore(target);
    }

    private String countdown(OffsetDateTime until) {
        Duration left = Duration.between(now, until);
        long minutes = left.abs().toMinutes();
        String span = minutes >= 60 ? minutes / 60 + " h " + minutes % 60 + " min" : minutes + " min";
        return left.isNegative() || left.isZero() ? span + " ago" : "in " + span;
    }
}
