/**
 * Prints the field card: one sheet for each language that teaches the field language in pictures and examples.
 *
 * <p>Runs in the build only. Its words come from the same tables that the server reads and answers by, and every
 * example on it is read by the {@link duskpeg.messaging.language.Reader} before it is printed. Look at {@link
 * duskpeg.messaging.card.FieldCard} first.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging.card;
