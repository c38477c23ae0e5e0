/**
 * What an auditor is given about a fruit, and how she checks it without the farm: a
 * {@link duskpeg.core.audit.Bundle} of events with their proofs, an {@link duskpeg.core.audit.Extract} of the log from
 * which the verdict is derived anew, and the {@link duskpeg.core.audit.Verifier}. Pure: files and JSON are read outside.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.audit;
