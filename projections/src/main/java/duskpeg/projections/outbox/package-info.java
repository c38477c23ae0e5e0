/** Texts that went out by themselves, as people see them, and what a person decides of those that did not arrive. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.outbox;
