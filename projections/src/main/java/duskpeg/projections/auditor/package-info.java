/** Links by which an auditor looks at one fruit, one lot or one season, and at nothing else. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.auditor;
