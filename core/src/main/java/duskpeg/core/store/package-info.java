/** How events are stored: names and revisions of event types, JSON, and the JDBC event store itself. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.store;
