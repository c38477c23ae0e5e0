package duskpeg.messaging.language;

import com.ibm.icu.text.SpoofChecker;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The words of one language. Case, diacritics and look-alikes from other alphabets make no difference; spelling does.
 *
 * @param meanings what each word can stand for, by the word's look (see {@link #of})
 */
public record Vocabulary(Map<String, Set<Meaning>> meanings) {

    /** Longer words are not looked up, so that a text of one endless word costs nothing. */
    private static final int LONGEST_WORD = 40;

    private static final SpoofChecker LOOKS = new SpoofChecker.Builder().build();

    public Vocabulary {
        meanings = meanings.entrySet().stream()
                .collect(Collectors.toUnmodifiableMap(Map.Entry::getKey, entry -> Set.copyOf(entry.getValue())));
    }

    /**
     * Loads {@code duskpeg/language/<language>.properties}: for each {@link Meaning#key()} its words, with spaces
     * between.
     *
     * @param language two to eight letters a-z
     * @throws IllegalArgumentException if there is no such file, or it misses a key or has an unknown one
     */
    public static Vocabulary load(String language) {
        if (!language.matches("[a-z]{2,8}")) {
            throw new IllegalArgumentException("not a language: " + language);
        }
        try (InputStream in = Vocabulary.class.getResourceAsStream("/duskpeg/language/" + language + ".properties")) {
            if (in == null) {
                throw new IllegalArgumentException("no vocabulary for " + language);
            }
            Properties file = new Properties();
            file.load(new InputStreamReader(in, StandardCharsets.UTF_8));
            return parse(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Vocabulary parse(Properties file) {
        Map<Meaning, List<String>> words = new HashMap<>();
        for (Meaning meaning : Meaning.values()) {
            String line = file.getProperty(meaning.key());
            if (line == null) {
                throw new IllegalArgumentException("vocabulary without " + meaning.key());
            }
            words.put(meaning, List.of(line.strip().split("\\s+", -1)));
        }
        if (file.size() != words.size()) {
            throw new IllegalArgumentException("vocabulary with unknown keys among " + file.stringPropertyNames());
        }
        return of(words);
    }

    /** The vocabulary of these words. */
    public static Vocabulary of(Map<Meaning, List<String>> words) {
        Map<String, Set<Meaning>> meanings = new HashMap<>();
        words.forEach((meaning, list) -> list.forEach(word -> {
            for (String look : looks(Signs.plain(word))) {
                meanings.computeIfAbsent(look, unseen -> EnumSet.noneOf(Meaning.class))
                        .add(meaning);
            }
        }));
        return new Vocabulary(meanings);
    }

    /** What a word can stand for; empty if it is not known. */
    Set<Meaning> of(String word) {
        if (word.length() > LONGEST_WORD) {
            return Set.of();
        }
        for (String look : looks(word)) {
            Set<Meaning> found = meanings.get(look);
            if (found != null) {
                return found;
            }
        }
        return Set.of();
    }

    /** How a word looks in small and in capital letters: В looks like B, but в does not look like b. */
    private static List<String> looks(String plain) {
        return List.of(
                LOOKS.getSkeleton(plain.toLowerCase(Locale.ROOT)), LOOKS.getSkeleton(plain.toUpperCase(Locale.ROOT)));
    }
}
