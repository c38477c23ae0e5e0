/**
 * Whether a fruit is pure, and how that is known. Pure functions: {@link duskpeg.core.purity.Case} is what was
 * reported, each {@link duskpeg.core.purity.Rule} looks at it and says what it found and what it read, and
 * {@link duskpeg.core.purity.Verdict} is the fold of what they found.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.purity;
