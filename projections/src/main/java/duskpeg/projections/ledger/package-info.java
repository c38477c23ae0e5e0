/** The ledger: every event as a leaf of its farm's tree, signed checkpoints of it, and proofs for whoever asks. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.ledger;
