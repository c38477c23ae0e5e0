/** Answers: one short segment that says what was understood and what is left. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging.reply;
