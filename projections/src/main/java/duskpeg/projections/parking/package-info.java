/** Where events wait that a projection could not take. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.parking;
