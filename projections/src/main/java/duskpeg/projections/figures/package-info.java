/** Published figures with their sources, which of them a farm goes by, and its own in their place. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.figures;
