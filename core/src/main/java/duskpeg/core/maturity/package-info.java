/**
 * When fruit will be ready: days from pollination, degree-days, and curing after the harvest. Times are estimates. All
 * days are the farm's, in its own zone. Pure.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.maturity;
