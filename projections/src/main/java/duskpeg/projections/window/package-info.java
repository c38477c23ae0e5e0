/** The morning's window, for pages and machines. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.window;
