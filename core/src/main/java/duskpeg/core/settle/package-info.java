/**
 * What a second person settled: how a text that nobody could read was meant, and that a questioned report is right.
 * Settling is a fact beside the others. It changes no report and erases no question. Pure.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.settle;
