package duskpeg.messaging.carrier;

/**
 * When texts may go out.
 *
 * @param quiet the hours in which only urgent ones do
 * @param perDay how many a farm may send on a day of its own
 */
public record SendingRules(QuietHours quiet, int perDay) {}
