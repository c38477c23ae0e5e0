/** Who descends from whom: what a lot's breadth is, which males to give which females, how much seed of each fruit to take. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.lineage;
