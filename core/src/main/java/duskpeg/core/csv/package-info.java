/** Comma-separated text that people bring along: read row by row, taken whole or not at all. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.csv;
