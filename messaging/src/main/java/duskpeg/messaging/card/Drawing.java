package duskpeg.messaging.card;

import java.awt.Shape;
import java.awt.geom.AffineTransform;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;

/**
 * A drawing in black and white: marks laid over each other, in a square of {@link #SIZE} units with its origin at the
 * top left. Grows while it is made, by calls in a chain.
 */
final class Drawing {

    /** The side of the square. */
    static final int SIZE = 100;

    /** How a shape is inked. */
    enum Ink {
        /** An outline. */
        LINE,
        /** A stroke twice as thick. */
        THICK,
        /** Black. */
        SOLID,
        /** White with an outline, which hides what is below it. */
        PAPER,
        /** Light grey with an outline. */
        SHADE
    }

    /**
     * A shape and its ink.
     *
     * @param shape in units of the square
     * @param ink how it is inked
     * @param stroke how thick its lines are; 1 is as in a drawing that was not made smaller
     */
    record Mark(Shape shape, Ink ink, double stroke) {}

    private final List<Mark> marks = new ArrayList<>();

    /** What was drawn, the lowest first. */
    List<Mark> marks() {
        return List.copyOf(marks);
    }

    /**
     * Draws a path.
     *
     * @param ink how
     * @param path as the path data of SVG, with M, L, C and Z only, in capitals, and spaces between all
     * @throws IllegalArgumentException if there are other commands
     */
    Drawing path(Ink ink, String path) {
        return mark(ink, parse(path));
    }

    /** Draws a circle around (x, y). */
    Drawing circle(Ink ink, double x, double y, double radius) {
        return oval(ink, x, y, radius, radius);
    }

    /** Draws an ellipse around (x, y). */
    Drawing oval(Ink ink, double x, double y, double across, double down) {
        return mark(ink, new Ellipse2D.Double(x - across, y - down, 2 * across, 2 * down));
    }

    /**
     * Lays another drawing over this one.
     *
     * @param x where its left edge comes
     * @param y where its upper edge comes
     * @param scale its size; 1 is as it is
     */
    Drawing add(Drawing other, double x, double y, double scale) {
        return add(other, x, y, scale, 0);
    }

    /** Lays another drawing over this one, turned about its middle, clockwise in degrees. */
    Drawing add(Drawing other, double x, double y, double scale, double turn) {
        AffineTransform place = AffineTransform.getTranslateInstance(x, y);
        place.scale(scale, scale);
        place.rotate(Math.toRadians(turn), SIZE / 2.0, SIZE / 2.0);
        // Lines get thinner, but less than the drawing gets smaller, or they would be lost in print.
        other.marks.forEach(mark -> marks.add(
                new Mark(place.createTransformedShape(mark.shape), mark.ink, mark.stroke * Math.sqrt(scale))));
        return this;
    }

    private Drawing mark(Ink ink, Shape shape) {
        marks.add(new Mark(shape, ink, 1));
        return this;
    }

    private static Path2D parse(String data) {
        Path2D path = new Path2D.Double();
        Iterator<String> words = Arrays.asList(data.split(" ", -1)).iterator();
        while (words.hasNext()) {
            String command = words.next();
            switch (command) {
                case "M" -> path.moveTo(next(words), next(words));
                case "L" -> path.lineTo(next(words), next(words));
                case "C" -> path.curveTo(next(words), next(words), next(words), next(words), next(words), next(words));
                case "Z" -> path.closePath();
                default -> throw new IllegalArgumentException("no command of a path: " + command);
            }
        }
        return path;
    }

    private static double next(Iterator<String> words) {
        return Double.parseDouble(words.next());
    }
}
