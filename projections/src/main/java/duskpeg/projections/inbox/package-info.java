/** The inbox: what nobody could read and what is questioned, for a supervisor to settle. It has no table of its own. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.inbox;
