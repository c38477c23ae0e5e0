/** The strips of a farm: who holds which ties, what became of each, and sheets of tags to print. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.strips;
