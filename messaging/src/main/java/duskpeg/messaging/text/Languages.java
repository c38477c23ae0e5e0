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
import java.util.concurrent.CompletableFuture;
import org.springframework.beans.factory.SmartInitializingSingleton;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/**
 * The languages that crews are read and answered in. They are loaded while the rest of the server starts; a file that
 * is not whole keeps it from starting.
 */
@Component
public class Languages implements SmartInitializingSingleton {

    /** What is not known is read and answered in this one. */
    public static final String ENGLISH = "en";

    private final CompletableFuture<SortedMap<String, Language>> loading;

    /**
     * @param reader reads it
     * @param phrases answers in it
     */
    public record Language(Reader reader, Phrases phrases) {}

    Languages(@Value("${duskpeg.languages-dir:}") String folder) {
        LanguageFiles files = folder.isBlank() ? LanguageFiles.BUILT_IN : new LanguageFiles(Path.of(folder));
        loading = CompletableFuture.supplyAsync(() -> load(files));
    }

    private static SortedMap<String, Language> load(LanguageFiles files) {
        SortedMap<String, Language> languages = new TreeMap<>();
        Vocabulary.all(files)
                .forEach((code, words) ->
                        languages.put(code, new Language(new Reader(words), Phrases.load(code, files))));
        return languages;
    }

    /**
     * @throws java.util.concurrent.CompletionException if a file is not whole; its cause names the file
     */
    @Override
    public void afterSingletonsInstantiated() {
        loading.join();
    }

    private SortedMap<String, Language> languages() {
        return loading.join();
    }

    boolean has(String code) {
        return languages().containsKey(code);
    }

    /** The language, or English if there is none of that code. */
    public Language of(String code) {
        return Objects.requireNonNull(languages().get(has(code) ? code : ENGLISH));
    }

    /** What each language calls itself, by its code. */
    SortedMap<String, String> names() {
        SortedMap<String, String> names = new TreeMap<>();
        for (Map.Entry<String, Language> language : languages().entrySet()) {
            names.put(language.getKey(), language.getValue().phrases().say("language.name"));
        }
        return names;
    }
}
