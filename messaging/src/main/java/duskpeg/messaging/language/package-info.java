/**
 * The field language: reads the short lines crews text into statements. Pure.
 *
 * <p>The grammar is written down, with examples that are tested, in {@code docs/field-language.md}. One rule stands
 * above the others: a row, a count or a tie number is never guessed. What could be two things is not read, and the
 * reading says where it stuck.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging.language;
