/** What a worker says in one line of a message, and what was made of it. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.report;
