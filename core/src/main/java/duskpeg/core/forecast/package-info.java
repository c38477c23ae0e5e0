/** When a morning's rows will be finished, and how sure that is. Pure: the dice are numbered and come from outside. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.forecast;
