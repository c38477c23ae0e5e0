/**
 * The log as a Merkle tree (RFC 6962, RFC 9162): what lets an auditor see for herself that nothing was altered, left
 * out or written later. Pure, and without any framework: the JDK's SHA-256 and Ed25519 suffice.
 *
 * <p>{@link duskpeg.core.ledger.Appender} makes the tree grow, {@link duskpeg.core.ledger.Tree} proves,
 * {@link duskpeg.core.ledger.Proofs} checks, {@link duskpeg.core.ledger.Checkpoint} says how the tree stands and
 * {@link duskpeg.core.ledger.Note} signs that. {@link duskpeg.core.ledger.Witness} says what somebody else, who saw
 * earlier checkpoints, makes of a new one, and {@link duskpeg.core.ledger.Cosignature} is his word.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.ledger;
