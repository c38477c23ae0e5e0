/** What auditors are given, and the command that checks it. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.audit;
