package duskpeg.messaging.text;

import duskpeg.messaging.language.LanguageFiles;
import duskpeg.messaging.language.Reader;
import duskpeg.messaging.language.Vocabulary;
import duskpeg.messaging.reply.Phrases;
import java.nio.file.Path;
import java.util.Map;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/** The languages that crews are read and answered in. A file that is not whole keeps the server from starting. */
@Component
class Languages {

    /** What is not known is read and answered in this one. */
    static final String ENGLISH = "en";

    private final SortedMap<String, Language> languages = new TreeMap<>();

    /**
     * @param reader reads it
     * @param phrases answers in it
     */
    record Language(Reader reader, Phrases phrases) {}

    Languages(@Value("${duskpeg.languages-dir:}") String folder) {
        LanguageFiles files = folder.isBlank() ? LanguageFiles.BUILT_IN : new LanguageFiles(Path.of(folder));
        Vocabulary.all(files)
                .forEach((code, words) ->
                        languages.put(code, new Language(new Reader(words), Phrases.load(code, files))));
    }

    boolean has(String code) {
        return languages.containsKey(code);
    }

    /** The language, or English if there is none of that code. */
    Language of(String code) {
        return Objects.requireNonNull(has(code) ? languages.get(code) : languages.get(ENGLISH));
    }

    /** What each language calls itself, by its code. */
    SortedMap<String, String> names() {
        SortedMap<String, String> names = new TreeMap<>();
        for (Map.Entry<String, Language> language : languages.entrySet()) {
            names.put(language.getKey(), language.getValue().phrases().say("language.name"));
        }
        return names;
    }
}
