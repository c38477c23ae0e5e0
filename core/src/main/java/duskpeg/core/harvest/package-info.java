/** After the flowers: seasons, culling rounds, what fruit gave. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.harvest;
