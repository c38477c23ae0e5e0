/** Seed after it was taken out: moisture, weight, drying, balances, packets, storage. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.seed;
