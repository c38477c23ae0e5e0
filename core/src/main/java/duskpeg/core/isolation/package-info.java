/**
 * What stands near a planting and may cross with it, and the planting plan that says what stands where.
 *
 * <p>Pure: no framework, no clock, no randomness.
 */
@NullMarked
package duskpeg.core.isolation;

import org.jspecify.annotations.NullMarked;
