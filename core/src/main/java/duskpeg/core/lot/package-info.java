/**
 * Seed lots: what was brought together, what became of it, and which flowers any packet of it comes from.
 *
 * <p>Pure: no framework, no clock, no randomness.
 */
@NullMarked
package duskpeg.core.lot;

import org.jspecify.annotations.NullMarked;
