/** A day of the farm as its supervisor enters it: who comes to work, and what to beware of. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.day;
