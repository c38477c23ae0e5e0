package duskpeg.projections.auditor;

import duskpeg.projections.lots.TraceView.FlowerView;
import duskpeg.projections.lots.TraceView.PacketsOf;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What an auditor sees. There is no place in it for a name or for the words of a message. */
final class AuditorView {

    private AuditorView() {}

    /**
     * A fruit.
     *
     * @param verdict its verdict, by the latest rules and all that is known now
     * @param acts what was reported, by when it was done
     * @param takenBack what was reported and taken back
     * @param questions what is asked of the reports and nobody has settled
     * @param settled what was asked, and who settled it
     */
    record OfFruit(
            String tie,
            @Nullable String row,
            @Nullable LocalDate morning,
            @Nullable String cultivar,
            @Nullable String species,
            String state,
            String verdict,
            String rules,
            List<Found> evidence,
            List<Done> acts,
            List<Done> takenBack,
            List<String> questions,
            List<String> settled) {}

    /** What a rule found. */
    record Found(String rule, String result, String grade, String because) {}

    /**
     * Something reported.
     *
     * @param at when it was done, farm time
     * @param heard when it was heard, farm time
     * @param worker who said it, by pseudonym
     * @param putRight the supervisor who read it so, by pseudonym; null where it could be read as it came
     */
    record Done(
            String act,
            @Nullable String row,
            int count,
            OffsetDateTime at,
            OffsetDateTime heard,
            String worker,
            String grade,
            @Nullable String putRight) {}

    /**
     * A lot; weights in grams.
     *
     * @param sources the lots that it was drawn from
     * @param packets those with such seed
     */
    record OfLot(
            String lot,
            @Nullable String cultivar,
            @Nullable String species,
            String state,
            @Nullable Double grams,
            List<String> against,
            List<String> tests,
            List<FlowerView> flowers,
            List<String> sources,
            List<PacketsOf> packets) {}

    /** A lot in the list of a season. */
    record Line(String lot, @Nullable String cultivar, String state, int flowers) {}
}
