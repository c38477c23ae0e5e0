/** Seed lots: their pages, what is entered on them, and tracing from a packet to its flowers and back. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.lots;
