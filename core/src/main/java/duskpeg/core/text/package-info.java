/** The messages themselves: words, sender and answer, kept beside the log, where they can be erased. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.text;
