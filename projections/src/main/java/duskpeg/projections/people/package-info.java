/** Who is on the farm, and erasing what is personal of a worker. */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.people;
