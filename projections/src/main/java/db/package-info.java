/** Changes of the schema that one script can't make on both engines; the others are scripts beside them. */
@org.jspecify.annotations.NullMarked
package db;
