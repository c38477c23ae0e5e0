/** The farm as the pages need it: which farm is meant, and what a stranger's script may ask of the demo farm. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.farm;
