package duskpeg.projections.export;

import duskpeg.core.paper.Prints;
import duskpeg.core.paper.Tags;
import duskpeg.projections.Qr;
import java.io.IOException;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.apache.pdfbox.cos.COSArray;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.PDPageContentStream.AppendMode;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.documentinterchange.taggedpdf.StandardStructureTypes;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.graphics.state.RenderingMode;
import org.jspecify.annotations.Nullable;

/**
 * A document on A4 that is written from top to bottom and goes on to a new page where one is full. Places and sizes are in
 * points of 1/72 inch. A letter that the font lacks becomes a box; a word too long for its line is broken.
 */
final class Paper {

    /** 20 mm. */
    private static final float MARGIN = 20 / 25.4f * 72;

    /** How wide a line is; the last cell of a row may be wider by {@link #GUTTER}. */
    static final float WIDE = PDRectangle.A4.getWidth() - 2 * MARGIN;

    private static final float HIGH = PDRectangle.A4.getHeight();
    private static final float FOOT = 12 / 25.4f * 72;
    private static final float LEADING = 1.22f;
    static final float GUTTER = 8;
    private static final float NAMES = 132;
    private static final float DASH = 16;
    private static final float FOOT_SIZE = 7.5f;
    private static final float BOLD = 0.03f;
    private static final float PADDING = 2.5f;
    private static final String LACKING = "□";

    private final PDDocument document = new PDDocument();
    private final PDFont font;
    private final Tags tags = new Tags(document);
    private final Map<Integer, Boolean> known = new HashMap<>();
    private PDPage page;
    private PDPageContentStream out;
    private COSArray parts;
    /** How far down the page is filled, from its upper edge. */
    private float y;
    /** What is written again over a table that goes on. */
    private Cell[] head = {};

    /** How a text looks. */
    record Style(String tag, float size, boolean bold, float grey) {

        static final Style TITLE = new Style(StandardStructureTypes.H1, 20, true, 0);
        static final Style LARGE = new Style(StandardStructureTypes.P, 26, true, 0);
        static final Style HEADING = new Style(StandardStructureTypes.H2, 12, true, 0);
        static final Style BODY = new Style(StandardStructureTypes.P, 9.5f, false, 0);
        static final Style CELL = new Style(StandardStructureTypes.P, 9, false, 0);
        static final Style STRONG = new Style(StandardStructureTypes.P, 9, true, 0);
        static final Style SMALL = new Style(StandardStructureTypes.P, 8, false, 0.25f);
    }

    /**
     * A cell of a row.
     *
     * @param wide how wide it is, with the gap behind it
     */
    record Cell(String text, float wide, Style style) {}

    Paper() throws IOException {
        this.font = Prints.font(document);
        this.page = new PDPage(PDRectangle.A4);
        this.out = begin();
        this.parts = tags.begin(page);
    }

    private PDPageContentStream begin() throws IOException {
        document.addPage(page);
        y = MARGIN;
        return new PDPageContentStream(document, page);
    }

    private void nextPage() throws IOException {
        out.close();
        page = new PDPage(PDRectangle.A4);
        out = begin();
        parts = tags.begin(page);
        if (head.length > 0) {
            row(head);
        }
    }

    private float left() {
        return HIGH - MARGIN - y;
    }

    /** Leaves some room, but not at the top of a page. */
    void gap(float high) {
        if (y > MARGIN) {
            y += high;
        }
    }

    /** Begins a new page where less than that is left of this one. */
    void need(float high) throws IOException {
        if (left() < high && y > MARGIN) {
            nextPage();
        }
    }

    /** Writes a heading, and keeps it together with what follows. */
    void heading(String text) throws IOException {
        gap(10);
        need(60);
        text(text, Style.HEADING);
        y += 3;
    }

    /** Writes a text over the whole width. */
    void text(String text, Style style) throws IOException {
        text(text, style, WIDE);
    }

    /** Writes a text no wider than that. */
    void text(String text, Style style, float wide) throws IOException {
        row(new Cell(text, wide + GUTTER, style));
    }

    /** Writes cells beside each other. */
    void row(Cell... cells) throws IOException {
        write(Laid.out(this, cells));
    }

    /** Begins a table: its columns, which are written again where it goes on to another page. */
    void table(Cell... columns) throws IOException {
        row(columns);
        head = columns;
    }

    /** Writes a line of the table, with a thin line over it. */
    void line(Cell... cells) throws IOException {
        Laid laid = Laid.out(this, cells);
        if (laid.high() <= HIGH - 2 * MARGIN - 3 * PADDING) {
            need(laid.high() + 2 * PADDING);
        }
        rule();
        write(laid);
    }

    /** Ends the table. */
    void end() {
        head = new Cell[0];
    }

    /** Cells whose texts are parted into lines. */
    private record Laid(List<Cell> cells, List<List<String>> lines, int most, float leading) {

        static Laid out(Paper paper, Cell... cells) throws IOException {
            List<List<String>> lines = new ArrayList<>();
            int most = 0;
            float leading = 0;
            for (Cell cell : cells) {
                List<String> wrapped = paper.wrap(paper.printable(cell.text), cell.wide - GUTTER, cell.style);
                lines.add(wrapped);
                most = Math.max(most, wrapped.size());
                leading = Math.max(leading, cell.style.size * LEADING);
            }
            return new Laid(List.of(cells), lines, most, leading);
        }

        float high() {
            return most * leading;
        }
    }

    /** What fits on a page is not parted. */
    private void write(Laid laid) throws IOException {
        if (laid.high() <= HIGH - 2 * MARGIN) {
            need(laid.high());
        }
        for (int from = 0; from < laid.most; ) {
            need(laid.leading);
            int to = Math.min(laid.most, from + Math.max(1, (int) (left() / laid.leading)));
            float x = MARGIN;
            for (int i = 0; i < laid.cells.size(); i++) {
                List<String> of = laid.lines.get(i);
                if (from < of.size()) {
                    write(of.subList(from, Math.min(to, of.size())), x, laid.leading, laid.cells.get(i).style);
                }
                x += laid.cells.get(i).wide;
            }
            y += (to - from) * laid.leading;
            from = to;
        }
    }

    private void write(List<String> lines, float x, float leading, Style style) throws IOException {
        out.beginMarkedContent(COSName.P, tags.mark(style.tag, page, parts));
        float baseline = y + style.size * 0.95f;
        for (String line : lines) {
            write(out, line, x, baseline, style);
            baseline += leading;
        }
        out.endMarkedContent();
    }

    private void write(PDPageContentStream to, String line, float x, float baseline, Style style) throws IOException {
        to.setNonStrokingColor(style.grey);
        to.setStrokingColor(style.grey);
        to.beginText();
        // There is one weight of the font; bold is the same letters with an outline.
        to.setRenderingMode(style.bold ? RenderingMode.FILL_STROKE : RenderingMode.FILL);
        to.setLineWidth(style.size * BOLD);
        to.setFont(font, style.size);
        to.newLineAtOffset(x, HIGH - baseline);
        to.showText(line);
        to.endText();
    }

    /** Draws a thin line over the whole width. */
    void rule() throws IOException {
        y += PADDING;
        out.beginMarkedContent(COSName.ARTIFACT);
        out.setStrokingColor(0.7f);
        out.setLineWidth(0.5f);
        out.moveTo(MARGIN, HIGH - y);
        out.lineTo(MARGIN + WIDE, HIGH - y);
        out.stroke();
        out.endMarkedContent();
        y += PADDING;
    }

    /**
     * Draws a QR code at the upper right of the page that is begun, beside what follows.
     *
     * @param side how wide it is, with its quiet zone
     * @param alternative what is read aloud in its place
     */
    void qr(Qr code, float side, String alternative) throws IOException {
        float unit = side / code.size();
        float x = MARGIN + WIDE - side;
        out.beginMarkedContent(COSName.P, tags.mark(StandardStructureTypes.Figure, alternative, page, parts));
        out.setNonStrokingColor(0f);
        for (Qr.Run run : code.runs()) {
            out.addRect(x + run.x() * unit, HIGH - y - (run.y() + 1) * unit, run.length() * unit, unit);
        }
        out.fill();
        out.endMarkedContent();
    }

    /** How far down the page is filled, from its upper edge. */
    float filled() {
        return y;
    }

    /** Goes down to that place, unless it is passed already. */
    void downTo(float place) {
        y = Math.max(y, place);
    }

    private static float widthOf(PDFont font, String text, Style style) throws IOException {
        return font.getStringWidth(text) * style.size / 1000 + (style.bold ? style.size * BOLD : 0);
    }

    private List<String> wrap(String text, float wide, Style style) throws IOException {
        List<String> lines = new ArrayList<>();
        String line = "";
        for (String word : text.split(" ", -1)) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (widthOf(font, longer, style) <= wide) {
                line = longer;
                continue;
            }
            if (!line.isEmpty()) {
                lines.add(line);
            }
            line = word;
            for (int fits = fits(line, wide, style); fits < line.length(); fits = fits(line, wide, style)) {
                lines.add(line.substring(0, fits));
                line = line.substring(fits);
            }
        }
        lines.add(line);
        return lines;
    }

    /** How much of a word has room, at least one letter. */
    private int fits(String word, float wide, Style style) throws IOException {
        int fits = word.isEmpty() ? 0 : word.offsetByCodePoints(0, 1);
        while (fits < word.length()) {
            int next = word.offsetByCodePoints(fits, 1);
            if (widthOf(font, word.substring(0, next), style) > wide) {
                break;
            }
            fits = next;
        }
        return fits;
    }

    /** The text in letters that the font has. */
    private String printable(String text) {
        StringBuilder printable = new StringBuilder();
        Normalizer.normalize(text, Normalizer.Form.NFC).codePoints().forEach(letter -> {
            if (Character.isWhitespace(letter) || Character.isSpaceChar(letter)) {
                printable.append(' ');
            } else if (Character.getType(letter) == Character.FORMAT) {
                // It has no shape, and would turn the others round.
            } else if (known.computeIfAbsent(letter, this::isKnown)) {
                printable.appendCodePoint(letter);
            } else {
                printable.append(LACKING);
            }
        });
        return printable.toString();
    }

    private boolean isKnown(int letter) {
        try {
            return !Character.isISOControl(letter) && font.encode(Character.toString(letter)).length > 0;
        } catch (IOException | IllegalArgumentException e) {
            return false;
        }
    }

    /**
     * Finishes it: every page gets its number and that line at its foot.
     *
     * @param title what a viewer shows as its title
     * @param foot what stands at the foot of each page
     * @param id the same for the same content
     */
    byte[] finish(String title, String foot, long id) throws IOException {
        out.close();
        Style style = new Style(StandardStructureTypes.P, FOOT_SIZE, false, 0.3f);
        int pages = document.getNumberOfPages();
        for (int i = 0; i < pages; i++) {
            try (PDPageContentStream at =
                    new PDPageContentStream(document, document.getPage(i), AppendMode.APPEND, true, true)) {
                String number = "page " + (i + 1) + " of " + pages;
                at.beginMarkedContent(COSName.ARTIFACT);
                float wide = widthOf(font, number, style);
                float baseline = HIGH - FOOT;
                for (String line : wrap(printable(foot), WIDE - wide - GUTTER, style)) {
                    write(at, line, MARGIN, baseline, style);
                    baseline += FOOT_SIZE * LEADING;
                }
                write(at, number, MARGIN + WIDE - wide, HIGH - FOOT, style);
                at.endMarkedContent();
            }
        }
        byte[] bytes = Prints.finish(document, title, "en", id);
        document.close();
        return bytes;
    }

    /** A fact: its name in a narrow column, and what it is beside it. */
    void fact(String name, @Nullable Object value) throws IOException {
        row(
                new Cell(name, NAMES, Style.SMALL),
                new Cell(value == null ? "not known" : value.toString(), WIDE - NAMES + GUTTER, Style.BODY));
    }

    /** Several texts, each on its own with a dash before it. */
    void list(String... texts) throws IOException {
        for (String text : Arrays.asList(texts)) {
            row(new Cell("–", DASH, Style.CELL), new Cell(text, WIDE - DASH + GUTTER, Style.CELL));
        }
    }
}
