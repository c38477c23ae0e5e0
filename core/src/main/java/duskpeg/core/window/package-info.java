/** The morning's window: sun, when flowers are expected to open, the farm's target and limit. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.window;
