/** Germination tests: what was counted, whether the test stands, and how it compares with another or a standard. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.germination;
