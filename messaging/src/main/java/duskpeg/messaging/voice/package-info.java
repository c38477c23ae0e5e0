/** Calls: the field language keyed on a phone, read back, confirmed by a key, and then heard like any text. */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging.voice;
