/** The live board: each row's round on one morning, and what is left of it. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.board;
