/**
 * Grow-outs: plants of a lot are grown and looked at, and so many of them are off-types. What that shows of the lot is
 * a bound with a confidence, never a purity. Pure.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.growout;
