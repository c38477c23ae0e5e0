package duskpeg.projections;

import com.fasterxml.jackson.annotation.JsonIgnore;
import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.OffsetDateTime;
import org.jspecify.annotations.Nullable;

/**
 * A question that was settled, as shown and as published. It was asked, and it stays to be seen.
 *
 * @param kind its kind, for machines
 * @param text the question, for people
 * @param by who settled it, by pseudonym
 * @param name who settled it, by name, while it is known
 * @param at when, farm time
 * @param note what she found, if she wrote it and while it is kept
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record SettledView(
        String kind,
        String text,
        String by,
        @Nullable String name,
        OffsetDateTime at,
        @Nullable String note) {

    /** Who settled it and when, for people. */
    @JsonIgnore
    public String getWho() {
        return (name == null ? by : name) + ", " + at.toLocalTime().toString().substring(0, 5);
    }
}
