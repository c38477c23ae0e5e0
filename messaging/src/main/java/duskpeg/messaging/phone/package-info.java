/** The built-in phone: a page that texts through the same edge as any other phone. */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging.phone;
