package duskpeg.projections.chart;

/**
 * A mark on the lower edge.
 *
 * @param label what stands there
 * @param x where, in hundredths of the width
 */
public record Mark(String label, String x) {}
