package duskpeg.messaging.card;

import duskpeg.core.paper.Prints;
import duskpeg.core.paper.Tags;
import duskpeg.messaging.language.LanguageFiles;
import duskpeg.messaging.language.Reader;
import duskpeg.messaging.language.Vocabulary;
import duskpeg.messaging.reply.Phrases;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.font.PDFont;

/** Prints the field cards of all languages, the same bytes each time. Run by the build. */
public final class FieldCards {

    private static final long ID = 1;

    private final LanguageFiles files;
    private final SortedMap<String, Vocabulary> vocabularies;
    private final SortedMap<String, String> names = new TreeMap<>();

    FieldCards(LanguageFiles files) {
        this.files = files;
        this.vocabularies = Vocabulary.all(files);
        vocabularies
                .keySet()
                .forEach(code -> names.put(code, Phrases.load(code, files).say("language.name")));
    }

    /**
     * Prints a card for each language, and a page that lists them.
     *
     * @param arguments the folder to print into, which is made if need be, and the farm's own folder of languages, if
     *     it has one
     * @throws IOException if a file can't be written, or a language has no room on the card
     * @throws IllegalArgumentException if a language's files are not whole, or the font lacks one of its letters
     * @throws IllegalStateException if an example would not be read as the card says
     */
    public static void main(String[] arguments) throws IOException {
        // Maven hands an empty argument on as null.
        boolean own = arguments.length > 1 && arguments[1] != null && !arguments[1].isBlank();
        FieldCards cards = new FieldCards(own ? new LanguageFiles(Path.of(arguments[1])) : LanguageFiles.BUILT_IN);
        Path folder = Files.createDirectories(Path.of(arguments[0]));
        for (String code : cards.names.keySet()) {
            Files.write(folder.resolve(file(code)), cards.print(code));
        }
        Files.writeString(folder.resolve("index.html"), CardList.of(cards.names));
    }

    /** The name of a language's card. */
    static String file(String code) {
        return "field-card-" + code + ".pdf";
    }

    /** Prints the card of one language: a PDF of two pages. */
    byte[] print(String code) throws IOException {
        Words words = new Words(code, files);
        Lesson lesson = new Lesson(words, new Reader(Objects.requireNonNull(vocabularies.get(code))));
        SortedMap<String, String> others = new TreeMap<>(names);
        others.remove(code);
        try (PDDocument document = new PDDocument()) {
            Tags tags = new Tags(document);
            PDFont font = Prints.font(document);
            try (Sheet front = new Sheet(document, font, tags)) {
                Front.print(front, words, lesson);
            }
            try (Sheet back = new Sheet(document, font, tags)) {
                Back.print(back, words, lesson, others);
            }
            return Prints.finish(document, "Duskpeg: " + words.say("card.title") + ", " + names.get(code), code, ID);
        }
    }
}
