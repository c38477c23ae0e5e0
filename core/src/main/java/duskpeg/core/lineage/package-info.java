/**
 * Who descends from whom, and what that means for the next lot: relationship and inbreeding, effective size, balanced
 * bulks, and males that are no kin of the female. Pure.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.core.lineage;
