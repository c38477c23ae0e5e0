/** The assembled server: the one place that knows core, messaging and projections. */
@org.jspecify.annotations.NullMarked
package duskpeg.server;
