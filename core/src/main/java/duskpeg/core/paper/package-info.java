/** What every printed document of Duskpeg has in common: one font, a title, a language, and the order of its texts. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.paper;
