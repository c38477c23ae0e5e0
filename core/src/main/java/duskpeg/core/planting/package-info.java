/** Plantings and their rows, cultivars and species. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.planting;
