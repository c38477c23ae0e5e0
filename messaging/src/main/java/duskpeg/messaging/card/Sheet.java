package duskpeg.messaging.card;

import duskpeg.core.paper.Tags;
import java.awt.geom.AffineTransform;
import java.awt.geom.PathIterator;
import java.io.Closeable;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.cos.COSArray;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.documentinterchange.taggedpdf.StandardStructureTypes;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.graphics.state.RenderingMode;

/**
 * One side of the card, A6 upright. Places and sizes are in points of 1/72 inch from its upper left corner; text stands
 * on its baseline. What doesn't fit is an error: nothing is clipped and no letter is smaller than {@link #SMALLEST}.
 */
final class Sheet implements Closeable {

    private static final PDRectangle A6 = PDRectangle.A6;

    static final float WIDTH = A6.getWidth();
    static final float HEIGHT = A6.getHeight();

    /** 5 mm, which every office printer leaves white. */
    static final float MARGIN = 5 / 25.4f * 72;

    /** The smallest size of letters. */
    static final float SMALLEST = 7;

    private static final float STEP = 0.25f;
    private static final float LEADING = 1.16f;
    /** How far a circle's control points stand from its corners. */
    private static final float ROUND = 0.4477f;
    /** A stroke of a picture, in its units. */
    private static final float STROKE = 4.5f;

    /** How text stands to its place. */
    enum Align {
        LEFT,
        CENTRE
    }

    /** How heavy text is. */
    enum Weight {
        PLAIN,
        BOLD,
        /** Bold and white, on black. */
        REVERSED
    }

    private final PDPage page = new PDPage(A6);
    private final PDPageContentStream out;
    private final PDFont font;
    private final Tags tags;
    private final COSArray paragraphs;

    Sheet(PDDocument document, PDFont font, Tags tags) throws IOException {
        document.addPage(page);
        this.out = new PDPageContentStream(document, page);
        this.font = font;
        this.tags = tags;
        this.paragraphs = tags.begin(page);
        out.setLineCapStyle(1);
        out.setLineJoinStyle(1);
    }

    /**
     * Writes one line of text, at that size or, where it is too wide, smaller.
     *
     * @throws IOException if it is too wide even at the smallest size
     * @throws IllegalArgumentException if the font lacks a letter
     */
    void text(String words, float x, float y, float width, float size, Weight weight, Align align) throws IOException {
        float fitting = size;
        while (width(words, fitting) > width) {
            fitting -= STEP;
            if (fitting < SMALLEST) {
                throw new IOException("no room on the card for: " + words);
            }
        }
        beginText();
        write(words, align == Align.LEFT ? x : x + (width - width(words, fitting)) / 2, y, fitting, weight);
        out.endMarkedContent();
    }

    /**
     * Writes a paragraph into a box, its lines in the middle of the box's height, at that size or smaller.
     *
     * @throws IOException if it doesn't fit even at the smallest size
     */
    void paragraph(String words, float x, float y, float width, float height, float size) throws IOException {
        for (float fitting = size; fitting >= SMALLEST; fitting -= STEP) {
            List<String> lines = wrap(words, width, fitting);
            float leading = fitting * LEADING;
            if (lines.size() * leading <= height && widest(lines, fitting) <= width) {
                float baseline = y + (height - lines.size() * leading) / 2 + fitting * 0.92f;
                beginText();
                for (String line : lines) {
                    write(line, x, baseline, fitting, Weight.PLAIN);
                    baseline += leading;
                }
                out.endMarkedContent();
                return;
            }
        }
        throw new IOException("no room on the card for: " + words);
    }

    private List<String> wrap(String words, float width, float size) throws IOException {
        List<String> lines = new ArrayList<>();
        String line = "";
        for (String word : words.split(" ", -1)) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (width(longer, size) > width && !line.isEmpty()) {
                lines.add(line);
                line = word;
            } else {
                line = longer;
            }
        }
        lines.add(line);
        return lines;
    }

    private float widest(List<String> lines, float size) throws IOException {
        float widest = 0;
        for (String line : lines) {
            widest = Math.max(widest, width(line, size));
        }
        return widest;
    }

    /** How wide a text is, with the little that bold adds. */
    private float width(String words, float size) throws IOException {
        return font.getStringWidth(words) * size / 1000 + size * 0.04f;
    }

    private void write(String words, float x, float y, float size, Weight weight) throws IOException {
        float grey = weight == Weight.REVERSED ? 1 : 0;
        out.setNonStrokingColor(grey);
        out.setStrokingColor(grey);
        out.beginText();
        // There is one weight of the font; bold is the same letters with an outline.
        out.setRenderingMode(weight == Weight.PLAIN ? RenderingMode.FILL : RenderingMode.FILL_STROKE);
        out.setLineWidth(size * 0.04f);
        out.setFont(font, size);
        out.newLineAtOffset(x, HEIGHT - y);
        out.showText(words);
        out.endText();
    }

    private void beginText() throws IOException {
        out.beginMarkedContent(COSName.P, tags.mark(StandardStructureTypes.P, page, paragraphs));
    }

    /** What is drawn from here on is not read aloud: the words beside it say the same. */
    private void beginDrawing() throws IOException {
        out.beginMarkedContent(COSName.ARTIFACT);
    }

    /** Draws a picture into a square with that upper left corner. */
    void picture(Picture picture, float x, float y, float size) throws IOException {
        float scale = size / Drawing.SIZE;
        AffineTransform place = new AffineTransform(scale, 0, 0, -scale, x, HEIGHT - y);
        beginDrawing();
        for (Drawing.Mark mark : picture.marks()) {
            trace(mark.shape().getPathIterator(place));
            out.setStrokingColor(0f);
            out.setLineWidth(STROKE * scale * (float) mark.stroke() * (mark.ink() == Drawing.Ink.THICK ? 1.8f : 1));
            switch (mark.ink()) {
                case LINE, THICK -> out.stroke();
                case SOLID -> fill(0);
                case PAPER -> fillAndStroke(1);
                case SHADE -> fillAndStroke(0.8f);
            }
        }
        out.endMarkedContent();
    }

    private void trace(PathIterator path) throws IOException {
        float[] at = new float[6];
        for (; !path.isDone(); path.next()) {
            switch (path.currentSegment(at)) {
                case PathIterator.SEG_MOVETO -> out.moveTo(at[0], at[1]);
                case PathIterator.SEG_LINETO -> out.lineTo(at[0], at[1]);
                case PathIterator.SEG_CUBICTO -> out.curveTo(at[0], at[1], at[2], at[3], at[4], at[5]);
                case PathIterator.SEG_CLOSE -> out.closePath();
                default -> throw new AssertionError("drawings have no other segments");
            }
        }
    }

    /** Draws the outline of a box with round corners. */
    void box(float x, float y, float width, float height, float thick) throws IOException {
        beginDrawing();
        round(x, y, width, height);
        out.setStrokingColor(0f);
        out.setLineWidth(thick);
        out.stroke();
        out.endMarkedContent();
    }

    /** Draws a black box with round corners. */
    void block(float x, float y, float width, float height) throws IOException {
        beginDrawing();
        round(x, y, width, height);
        fill(0);
        out.endMarkedContent();
    }

    /** Draws a dotted line to write on. */
    void blank(float x, float y, float width) throws IOException {
        beginDrawing();
        out.setLineDashPattern(new float[] {0, 3}, 0);
        out.setStrokingColor(0f);
        out.setLineWidth(1);
        out.moveTo(x, HEIGHT - y);
        out.lineTo(x + width, HEIGHT - y);
        out.stroke();
        out.setLineDashPattern(new float[] {}, 0);
        out.endMarkedContent();
    }

    private void round(float x, float y, float width, float height) throws IOException {
        float r = 4;
        float c = r * ROUND;
        float left = x;
        float right = x + width;
        float top = HEIGHT - y;
        float bottom = top - height;
        out.moveTo(left + r, top);
        out.lineTo(right - r, top);
        out.curveTo(right - c, top, right, top - c, right, top - r);
        out.lineTo(right, bottom + r);
        out.curveTo(right, bottom + c, right - c, bottom, right - r, bottom);
        out.lineTo(left + r, bottom);
        out.curveTo(left + c, bottom, left, bottom + c, left, bottom + r);
        out.lineTo(left, top - r);
        out.curveTo(left, top - c, left + c, top, left + r, top);
        out.closePath();
    }

    private void fill(float grey) throws IOException {
        out.setNonStrokingColor(grey);
        out.fill();
    }

    private void fillAndStroke(float grey) throws IOException {
        out.setNonStrokingColor(grey);
        out.fillAndStroke();
    }

    @Override
    public void close() throws IOException {
        out.close();
    }
}
