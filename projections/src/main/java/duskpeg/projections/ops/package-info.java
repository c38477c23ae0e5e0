/** Keeping the server: backups, moving to another database, and how it is doing. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.ops;
