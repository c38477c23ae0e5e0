/** Texts on their way out: picked up once their transaction is committed, handed to the carrier, and followed. */
@org.jspecify.annotations.NullMarked
package duskpeg.messaging.carrier;
