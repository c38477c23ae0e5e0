/**
 * Numbers that stand in a publication, or that everybody goes by: each a row with its source, and what the farm put in
 * its place. They lie in files ({@code duskpeg/published/*.csv}), one for each {@link duskpeg.core.published.Table}.
 * Pure.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.published;
