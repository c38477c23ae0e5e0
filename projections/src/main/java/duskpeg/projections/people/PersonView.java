package duskpeg.projections.people;

import com.fasterxml.jackson.annotation.JsonIgnore;
import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.OffsetDateTime;
import org.jspecify.annotations.Nullable;

/**
 * A worker, as shown and, without her number, as published. What is not known is left out.
 *
 * @param worker by pseudonym
 * @param name by name; null once she was erased
 * @param role crew or supervisor; null once she was erased
 * @param language the language she is answered in, ISO 639-1; null once she was erased
 * @param phone the last digits of her number; null once she was erased
 * @param lastHeard when her last message came, farm time; null where none did
 * @param erased when what was personal of her was erased, farm time
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
record PersonView(
        String worker,
        @Nullable String name,
        @Nullable String role,
        @Nullable String language,
        @JsonIgnore @Nullable String phone,
        @Nullable OffsetDateTime lastHeard,
        @Nullable OffsetDateTime erased) {

    private static final int SHOWN = 3;

    /** So much of a number that two people can be told apart, and nobody be called. */
    static String hidden(String phone) {
        return "… " + phone.substring(Math.max(0, phone.length() - SHOWN));
    }
}
