/** The evening's plan for the morning: males, hours, chances, and who comes. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.plan;
