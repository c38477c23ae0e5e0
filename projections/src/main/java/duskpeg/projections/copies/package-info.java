/** Projections have two copies of their tables: one is looked at, the other can be made anew beside it. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.copies;
