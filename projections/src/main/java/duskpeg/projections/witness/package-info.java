/** Witnessing: what this server saw of the logs of others, and whom it shows its own checkpoints to. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.witness;
