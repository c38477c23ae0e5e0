package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import org.jspecify.annotations.Nullable;

/**
 * A word that is not known, and what it was taken for.
 *
 * @param said the word as it was sent
 * @param as the word it was taken for
 * @param deed the deed that word says; null if it says none
 */
public record Forgiven(String said, String as, @Nullable Deed deed) {}
