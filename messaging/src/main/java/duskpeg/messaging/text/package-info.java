/** The text edge: the webhook that takes messages, and the desk that hears each of them once. */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging.text;
