/** What crews touch: the field language, replies, the text edge and the built-in phone. */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging;
