/** One row on one opening morning: what its crew reported, what is left, and what must be asked. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.round;
