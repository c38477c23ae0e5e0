/** The history of a fruit: everything that was reported of it, how fine each fact is, and the words that were sent. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.history;
