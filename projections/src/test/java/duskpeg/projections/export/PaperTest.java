package duskpeg.projections.export;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.projections.export.Paper.Cell;
import duskpeg.projections.export.Paper.Style;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.Test;

/** What is written on paper is read back by PDFBox. */
class PaperTest {

    /** ISO 216: A4 is 210 mm by 297 mm; PDF counts in 1/72 inch. */
    private static final float UNIT = 72 / 25.4f;

    private static List<TextPosition> letters(byte[] pdf) throws IOException {
        List<TextPosition> letters = new ArrayList<>();
        try (PDDocument document = Loader.loadPDF(pdf)) {
            new PDFTextStripper() {
                @Override
                protected void processTextPosition(TextPosition letter) {
                    letters.add(letter);
                }
            }.getText(document);
        }
        return letters;
    }

    private static int pages(byte[] pdf) throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            return document.getNumberOfPages();
        }
    }

    private static String text(byte[] pdf) throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            return new PDFTextStripper().getText(document);
        }
    }

    @Test
    void aWordLongerThanItsLineIsBroken() throws IOException {
        String word = "Umuntungumuntungabantu".repeat(20);
        Paper paper = new Paper();
        paper.text(word, Style.LARGE);
        paper.row(new Cell(word, 60, Style.CELL), new Cell("", 60, Style.CELL), new Cell("–", 9, Style.CELL));
        byte[] pdf = paper.finish("title", word, 1);

        assertThat(letters(pdf))
                .allMatch(letter -> letter.getXDirAdj() >= 20 * UNIT - 1
                        && letter.getXDirAdj() + letter.getWidthDirAdj() <= 190 * UNIT + 1);
        assertThat(text(pdf).replaceAll("\\s", "")).contains(word);
    }

    @Test
    void aRowHigherThanAPageGoesOn() throws IOException {
        Paper paper = new Paper();
        paper.table(new Cell("Number", 60, Style.SMALL), new Cell("Words", 200, Style.SMALL));
        paper.line(new Cell("1", 60, Style.CELL), new Cell("word ".repeat(5000), 200, Style.CELL));
        paper.line(new Cell("last", 60, Style.CELL), new Cell("word", 200, Style.CELL));
        paper.end();
        byte[] pdf = paper.finish("title", "foot", 1);

        assertThat(text(pdf).split("word", -1)).hasSize(5000 + 1 + 1);
        assertThat(text(pdf).split("Number", -1)).hasSize(pages(pdf) + 1);
        assertThat(letters(pdf)).allMatch(letter -> letter.getYDirAdj() <= 290 * UNIT);
    }

    @Test
    void whatIsNoLetterDoesNotStopIt() throws IOException {
        Paper paper = new Paper();
        paper.text("a\u0000b\tc\nd\uD83Ee \u202Ef n\u0303 ﷽ 南", Style.BODY);

        assertThat(text(paper.finish("title", "", 1))).contains("a□b c d□e f ñ □ □");
    }
}
