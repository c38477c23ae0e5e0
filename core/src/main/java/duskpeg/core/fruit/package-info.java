/** One tied fruit, from its tie to its harvest. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.fruit;
