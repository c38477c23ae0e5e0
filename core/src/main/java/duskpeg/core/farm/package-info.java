/** The farm itself: where it is, its hours, and the width of its tie numbers. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.farm;
