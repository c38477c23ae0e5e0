/** What stands where: plantings, what is near them, and the planting plan. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.plantings;
