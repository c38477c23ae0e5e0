/**
 * Who should work where for the rest of the morning. {@link duskpeg.core.moves.Field} is the question,
 * {@link duskpeg.core.moves.Assignment} an answer with its worth, and {@link duskpeg.core.moves.Mover} finds the best:
 * exactly where it is small, by a solver where it is not. Nothing here reads a clock or throws unseeded dice.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.moves;
