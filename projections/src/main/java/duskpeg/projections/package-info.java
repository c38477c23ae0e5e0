/** What people look at: each projection with its table, its handler, its query and its page. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections;
