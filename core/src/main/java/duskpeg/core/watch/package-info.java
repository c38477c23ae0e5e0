/** What a supervisor should be told of before it is too late. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.watch;
