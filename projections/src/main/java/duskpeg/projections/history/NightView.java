package duskpeg.projections.history;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.core.round.Tally;
import duskpeg.projections.QuestionView;
import duskpeg.projections.SettledView;
import duskpeg.projections.history.FruitView.ActView;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A row's night and morning, as shown and as published. Absent values are left out.
 *
 * @param counts its numbers, by the acts that stand
 * @param finished whether somebody said that the row is finished
 * @param acts the acts that stand, by when they were done
 * @param takenBack the acts that were taken back
 * @param ties the ties that were put on, by the acts that stand
 * @param questions what must be asked
 * @param settled what was asked and somebody settled, while it would still be asked
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record NightView(
        String row,
        LocalDate morning,
        @Nullable String planting,
        @Nullable String cultivar,
        @Nullable String species,
        Tally counts,
        boolean finished,
        List<ActView> acts,
        List<ActView> takenBack,
        List<String> ties,
        List<QuestionView> questions,
        List<SettledView> settled) {}
