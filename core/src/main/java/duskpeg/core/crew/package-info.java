/** Workers by pseudonym, their tie strips, and, beside the log, the names and numbers that can be erased. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.crew;
