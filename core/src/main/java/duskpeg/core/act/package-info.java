/**
 * The field acts, in the order of the work.
 *
 * <p>Late in the afternoon a crew <b>pegs</b> shut the female flowers that will open next morning, and two males
 * for each. Before sunrise they are <b>opened</b>, <b>pollinated</b> by both males, <b>bagged</b>, and a numbered
 * cable tie is put round the stalk: <b>tied</b>. A flower that was found open, torn or without pollen is
 * <b>lost</b>: it is not used for seed. When nothing of a row is left it is <b>finished</b>. In the days after,
 * bags are taken off (<b>unbagged</b>) and fruit without a tie is <b>culled</b>; at the end only fruit with a tie is
 * <b>harvested</b>. What somebody said may be <b>taken back</b>, which is another fact.
 *
 * <p>An act is a report: what somebody said was done. It is stored as said and never changed; judging it is the
 * business of the pure functions in {@link duskpeg.core.round} and {@link duskpeg.core.fruit}.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.act;
