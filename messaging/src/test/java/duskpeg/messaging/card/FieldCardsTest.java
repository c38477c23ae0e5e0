package duskpeg.messaging.card;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.act.LossReason;
import duskpeg.messaging.language.Ask;
import duskpeg.messaging.language.LanguageFiles;
import duskpeg.messaging.language.Meaning;
import duskpeg.messaging.language.Reader;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.language.Vocabulary;
import java.awt.geom.Rectangle2D;
import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.apache.pdfbox.pdmodel.documentinterchange.markedcontent.PDMarkedContent;
import org.apache.pdfbox.text.PDFMarkedContentExtractor;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

class FieldCardsTest {

    /** ISO 216: A6 is 105 mm by 148 mm; PDF counts in 1/72 inch. */
    private static final float WIDE = 105 / 25.4f * 72;

    private static final float HIGH = 148 / 25.4f * 72;
    private static final float MARGIN = 5 / 25.4f * 72;

    private static final FieldCards CARDS = new FieldCards(LanguageFiles.BUILT_IN);
    private static final Map<String, byte[]> PRINTED = new HashMap<>();

    static Set<String> languages() {
        return LanguageFiles.BUILT_IN.codes();
    }

    private static PDDocument card(String code) throws IOException {
        return Loader.loadPDF(bytes(code));
    }

    private static byte[] bytes(String code) throws IOException {
        if (!PRINTED.containsKey(code)) {
            PRINTED.put(code, CARDS.print(code));
        }
        return PRINTED.get(code);
    }

    /** The letters of a page, with their places. */
    private static List<TextPosition> letters(PDDocument card, int page) throws IOException {
        List<TextPosition> letters = new ArrayList<>();
        PDFTextStripper stripper = new PDFTextStripper() {
            @Override
            protected void processTextPosition(TextPosition letter) {
                letters.add(letter);
            }
        };
        stripper.setStartPage(page);
        stripper.setEndPage(page);
        stripper.writeText(card, Writer.nullWriter());
        assertThat(letters).hasSizeGreaterThan(100);
        return letters;
    }

    private static Rectangle2D box(TextPosition letter) {
        return new Rectangle2D.Float(
                letter.getXDirAdj(),
                letter.getYDirAdj() - letter.getHeightDir(),
                letter.getWidthDirAdj(),
                letter.getHeightDir());
    }

    @ParameterizedTest
    @MethodSource("languages")
    void isTwoPagesOfA6(String code) throws IOException {
        try (PDDocument card = card(code)) {
            assertThat(card.getNumberOfPages()).isEqualTo(2);
            for (PDPage page : card.getPages()) {
                assertThat(page.getMediaBox().getWidth()).isCloseTo(WIDE, within(0.1f));
                assertThat(page.getMediaBox().getHeight()).isCloseTo(HIGH, within(0.1f));
            }
        }
    }

    @ParameterizedTest
    @MethodSource("languages")
    void bringsItsFontAndSaysWhatItIs(String code) throws IOException {
        try (PDDocument card = card(code)) {
            for (PDPage page : card.getPages()) {
                for (COSName name : page.getResources().getFontNames()) {
                    assertThat(page.getResources().getFont(name).isEmbedded()).isTrue();
                }
            }
            assertThat(card.getDocumentCatalog().getLanguage()).isEqualTo(code);
            assertThat(card.getDocumentInformation().getTitle())
                    .startsWith("Duskpeg: ")
                    .endsWith(new Words(code, LanguageFiles.BUILT_IN).say("language.name"));
        }
    }

    @ParameterizedTest
    @MethodSource("languages")
    void everyLetterIsBigEnoughAndInsideTheMargin(String code) throws IOException {
        Rectangle2D inside = new Rectangle2D.Float(MARGIN, MARGIN, WIDE - 2 * MARGIN, HIGH - 2 * MARGIN);
        try (PDDocument card = card(code)) {
            for (int page = 1; page <= 2; page++) {
                assertThat(letters(card, page))
                        .allMatch(letter -> letter.getFontSizeInPt() >= 7)
                        .allMatch(letter -> letter.getUnicode().isBlank() || inside.contains(box(letter)));
            }
        }
    }

    @ParameterizedTest
    @MethodSource("languages")
    void noLetterIsOnAnother(String code) throws IOException {
        try (PDDocument card = card(code)) {
            for (int page = 1; page <= 2; page++) {
                List<TextPosition> letters = letters(card, page);
                List<String> clashes = new ArrayList<>();
                for (int i = 0; i < letters.size(); i++) {
                    for (int j = 0; j < i; j++) {
                        Rectangle2D both = box(letters.get(i)).createIntersection(box(letters.get(j)));
                        // Neighbours in a word touch.
                        if (both.getWidth() > 1 && both.getHeight() > 0.5) {
                            clashes.add(letters.get(i) + " on " + letters.get(j) + " at " + both);
                        }
                    }
                }
                assertThat(clashes).isEmpty();
            }
        }
    }

    @ParameterizedTest
    @MethodSource("languages")
    void hasTheWordOfEveryKeyAndEveryReasonAndCaution(String code) throws IOException {
        Words words = new Words(code, LanguageFiles.BUILT_IN);
        try (PDDocument card = card(code)) {
            PDFTextStripper stripper = new PDFTextStripper();
            stripper.setSortByPosition(true);
            String text = stripper.getText(card);

            for (Meaning meaning : Meaning.values()) {
                if (meaning.deed() != null || meaning == Meaning.ASKED) {
                    assertThat(text).contains(words.first(meaning));
                }
            }
            for (LossReason reason : LossReason.values()) {
                assertThat(text).contains("8 12 2 " + reason.digit()).contains(words.say("reason." + reason.word()));
            }
            for (String caution : List.of("look-inside", "not-in-mouth", "cut-away", "heat", "spray", "allergic")) {
                for (String word : words.say("card." + caution).split(" ", -1)) {
                    assertThat(text).contains(word);
                }
            }
            for (String other : languages()) {
                if (!other.equals(code)) {
                    assertThat(text)
                            .contains(words.first(Meaning.LANGUAGE) + " " + other)
                            .contains(new Words(other, LanguageFiles.BUILT_IN).say("language.name"));
                }
            }
        }
    }

    /** ISO 32000-1, 14.8: in a tagged document each text has its place in the order of reading. */
    @ParameterizedTest
    @MethodSource("languages")
    void isReadAloudInTheOrderOfTheKeys(String code) throws IOException {
        Words words = new Words(code, LanguageFiles.BUILT_IN);
        try (PDDocument card = card(code)) {
            assertThat(card.getDocumentCatalog().getMarkInfo().isMarked()).isTrue();
            PDFMarkedContentExtractor extractor = new PDFMarkedContentExtractor();
            extractor.processPage(card.getPage(0));
            List<PDMarkedContent> marked = extractor.getMarkedContents();
            List<String> read = new ArrayList<>();
            PDStructureElement whole = (PDStructureElement)
                    card.getDocumentCatalog().getStructureTreeRoot().getKids().get(0);
            for (Object kid : whole.getKids()) {
                PDStructureElement paragraph = (PDStructureElement) kid;
                if (paragraph.getPage().equals(card.getPage(0))) {
                    int id = (Integer) paragraph.getKids().get(0);
                    read.add(marked.stream()
                            .filter(content -> content.getMCID() == id)
                            .flatMap(content -> content.getContents().stream())
                            .map(letter -> ((TextPosition) letter).getUnicode())
                            .collect(Collectors.joining()));
                }
            }
            assertThat(read)
                    .startsWith(words.say("language.name"), words.say("card.title"))
                    .containsSequence("1", words.first(Meaning.PEGGED), "2", words.first(Meaning.OPENED))
                    .containsSequence("0", words.first(Meaning.TAKEN_BACK))
                    .contains(words.first(Meaning.ROW));
        }
    }

    @ParameterizedTest
    @MethodSource("languages")
    void isTheSameBytesEachTime(String code) throws IOException {
        assertThat(new FieldCards(LanguageFiles.BUILT_IN).print(code)).isEqualTo(bytes(code));
    }

    @ParameterizedTest
    @EnumSource
    void aPictureStaysInItsSquare(Picture picture) {
        // Half a thick line may stand over.
        double least = -5;
        double most = Drawing.SIZE - least;

        assertThat(picture.marks())
                .extracting(mark -> mark.shape().getBounds2D())
                .isNotEmpty()
                .allMatch(bounds -> bounds.getMinX() >= least && bounds.getMaxX() <= most)
                .allMatch(bounds -> bounds.getMinY() >= least && bounds.getMaxY() <= most);
    }

    @Test
    void anExampleThatIsReadOtherwiseIsNotPrinted() {
        Reader reader = new Reader(Vocabulary.load("en"));
        Reading help = new Reading.Asked(new Ask.Help());

        assertThat(new Example("?", "help").readAs(help, reader).keys()).isEqualTo("?");
        assertThatIllegalStateException()
                .isThrownBy(() -> new Example("9", "help").readAs(help, reader))
                .withMessageContaining("\"9\"");
        assertThatIllegalStateException().isThrownBy(() -> new Example("?", "halp").readAs(help, reader));
        assertThatIllegalStateException().isThrownBy(() -> new Example("?", "help\nhelp").readAs(help, reader));
    }

    @Test
    void aFarmsOwnLanguageHasACardToo(@TempDir Path own, @TempDir Path out) throws IOException {
        copy(own, "language", "pegged = peg ", "pegged = swara peg ");
        copy(own, "reply", "language.name = English", "language.name = Marrowish");

        FieldCards.main(new String[] {out.toString(), own.toString()});

        try (Stream<Path> files = Files.list(out)) {
            assertThat(files).hasSize(languages().size() + 2);
        }
        try (PDDocument card = Loader.loadPDF(out.resolve("field-card-nso.pdf").toFile())) {
            assertThat(new PDFTextStripper().getText(card)).contains("Marrowish", "swara 12 14");
        }
        assertThat(out.resolve("index.html"))
                .content()
                .contains("href=\"field-card-nso.pdf\" hreflang=\"nso\"><b lang=\"nso\">Marrowish</b>")
                .contains("español");
    }

    @Test
    void wordsThatHaveNoRoomAreAnError(@TempDir Path own, @TempDir Path out) throws IOException {
        copy(own, "language", "pegged = peg ", "pegged = peglongenoughtofillmorethanonekey peg ");
        copy(own, "reply", "language.name = English", "language.name = Marrowish");

        assertThatExceptionOfType(IOException.class)
                .isThrownBy(() -> FieldCards.main(new String[] {out.toString(), own.toString()}))
                .withMessage("no room on the card for: peglongenoughtofillmorethanonekey");
        assertThat(out.resolve("field-card-nso.pdf")).doesNotExist();
    }

    /** English under another code, with one change. */
    private static void copy(Path folder, String kind, String from, String to) throws IOException {
        try (var in = FieldCardsTest.class.getResourceAsStream("/duskpeg/" + kind + "/en.properties")) {
            String english = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            assertThat(english).contains(from);
            Files.createDirectories(folder.resolve(kind));
            Files.writeString(folder.resolve(kind).resolve("nso.properties"), english.replace(from, to));
        }
    }
}
