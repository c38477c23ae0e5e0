/** Warnings: looking out for them, and the page on which they and the cautions are. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.alerts;
