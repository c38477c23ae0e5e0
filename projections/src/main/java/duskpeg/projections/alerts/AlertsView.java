package duskpeg.projections.alerts;

import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What there is to be told of, who was told, and what to beware of.
 *
 * @param farm the farm's id
 * @param day the day
 * @param now when it was looked at, farm time
 * @param alerts what is to be told now, of this morning and in the evening of the next
 * @param told who was told of what on that day
 * @param cautions what to beware of, now or later
 */
record AlertsView(
        String farm,
        LocalDate day,
        OffsetDateTime now,
        List<AlertView> alerts,
        List<ToldView> told,
        List<CautionView> cautions) {

    /**
     * Something to be told.
     *
     * @param kind its kind
     * @param about the row or cultivar; empty for the whole morning
     * @param text one sentence
     */
    record AlertView(String kind, String about, String text) {}

    /**
     * Somebody who was told.
     *
     * @param worker who, by pseudonym
     * @param name her name, while it is kept
     * @param text of what, in one sentence
     * @param told when, farm time
     * @param seen when she answered that she has seen it; null where she has not
     */
    record ToldView(
            String worker,
            @Nullable String name,
            String text,
            OffsetDateTime told,
            @Nullable OffsetDateTime seen) {}

    /**
     * A caution.
     *
     * @param kind heat or spray
     * @param planting the planting; null for the whole farm
     * @param on whether it is on now
     */
    record CautionView(String kind, @Nullable String planting, OffsetDateTime from, OffsetDateTime until, boolean on) {}
}
