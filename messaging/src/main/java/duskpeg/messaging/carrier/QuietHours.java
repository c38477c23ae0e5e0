package duskpeg.messaging.carrier;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.zone.ZoneOffsetTransition;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The hours in which nobody is texted without need, by the farm's clock.
 *
 * @param from when they begin
 * @param to when they end, the first minute that is not quiet; before {@code from} where they go through midnight, the
 *     same where there are none
 */
public record QuietHours(LocalTime from, LocalTime to) {

    private static final Pattern FORM =
            Pattern.compile("(CLOCK)-(CLOCK)".replace("CLOCK", "(?:[01][0-9]|2[0-3]):[0-5][0-9]"));

    /**
     * Reads {@code 20:00-04:00}; nothing means that there are none.
     *
     * @throws IllegalArgumentException if the text has another form
     */
    public static QuietHours parse(String text) {
        if (text.isBlank()) {
            return new QuietHours(LocalTime.MIDNIGHT, LocalTime.MIDNIGHT);
        }
        Matcher hours = FORM.matcher(text.strip());
        if (!hours.matches()) {
            throw new IllegalArgumentException("quiet hours as 20:00-04:00, not: " + text);
        }
        return new QuietHours(LocalTime.parse(hours.group(1)), LocalTime.parse(hours.group(2)));
    }

    /**
     * When the quiet hours at that instant end, or empty if it is not quiet then. Where clocks are put forward over the
     * end, they end as the clock jumps; where they are put back over it, when it shows the end for the first time.
     */
    public Optional<Instant> endAfter(Instant at, ZoneId zone) {
        ZonedDateTime local = at.atZone(zone);
        if (!contains(local.toLocalTime())) {
            return Optional.empty();
        }
        boolean endsTomorrow = !local.toLocalTime().isBefore(to);
        LocalDateTime end = local.toLocalDate().plusDays(endsTomorrow ? 1 : 0).atTime(to);
        ZoneOffsetTransition jump = zone.getRules().getTransition(end);
        if (jump != null && jump.isGap()) {
            return Optional.of(jump.getInstant());
        }
        // While the clock shows an hour for the second time, the first showing of the end may be over.
        ZonedDateTime first = end.atZone(zone);
        return Optional.of((first.toInstant().isAfter(at) ? first : first.withLaterOffsetAtOverlap()).toInstant());
    }

    private boolean contains(LocalTime time) {
        return from.isBefore(to)
                ? !time.isBefore(from) && time.isBefore(to)
                : from.isAfter(to) && (!time.isBefore(from) || time.isBefore(to));
    }
}
