/** Where reports are written down: one page a subject, kept in the event store, with an index beside it. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.fieldbook;
