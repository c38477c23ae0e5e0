/**
 * After the flowers: culling rounds, the harvest, and what a season gave. There are no tables of their own: all is read off
 * histories and lots, and folded when a page is read.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.harvest;
