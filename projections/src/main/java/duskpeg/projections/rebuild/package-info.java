/** Making every projection anew from the log. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.rebuild;
