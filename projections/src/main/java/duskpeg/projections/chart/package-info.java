/** Drawings in a page: what they are made of is reckoned here, {@code charts.html} draws it, and each says itself in words. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.chart;
