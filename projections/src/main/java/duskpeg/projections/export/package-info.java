/** What others take away: tables and lines of everything, papers on one fruit, and events in the form of GS1 EPCIS. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.export;
