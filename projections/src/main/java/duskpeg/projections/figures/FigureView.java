package duskpeg.projections.figures;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.core.published.Row;
import org.jspecify.annotations.Nullable;

/**
 * A figure, as shown and as published.
 *
 * @param table the table, by its word
 * @param key the row
 * @param value what holds on this farm
 * @param shipped what was shipped
 * @param mark R read in a copy of the source, M from memory, C computed, P common practice
 * @param caution what must be said beside it; empty where nothing must
 * @param ownSource where the farm has its own from; left out where it goes by what was shipped
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
record FigureView(
        String table,
        String key,
        String value,
        String unit,
        String shipped,
        String source,
        String edition,
        String mark,
        String caution,
        @Nullable String note,
        @Nullable String ownSource,
        @Nullable String ownEdition) {

    static FigureView of(Row row) {
        Row.Shipped shipped = row.shipped();
        Row.Own own = row.own();
        return new FigureView(
                row.table().word(),
                row.id(),
                row.value(),
                row.unit(),
                shipped.value(),
                shipped.source(),
                shipped.edition(),
                String.valueOf(shipped.mark().letter()),
                shipped.mark().caution(),
                shipped.note(),
                own == null ? null : own.source(),
                own == null ? null : own.edition());
    }
}
