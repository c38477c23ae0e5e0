package duskpeg.messaging.language;

import com.ibm.icu.text.SpoofChecker;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * The words of one language. Case, diacritics and look-alikes from other alphabets make no difference; spelling does.
 *
 * @param meanings what each word can stand for, by the word's look (see {@link #of})
 * @param words what each word can stand for, by the word as it is written, in small letters and without diacritics
 * @param names the codes of languages by the look of their names
 */
public record Vocabulary(
        Map<String, Set<Meaning>> meanings, Map<String, Set<Meaning>> words, Map<String, String> names) {

    /** Longer words are not looked up, so that a text of one endless word costs nothing. */
    private static final int LONGEST_WORD = 40;

    private static final SpoofChecker LOOKS = new SpoofChecker.Builder().build();

    public Vocabulary {
        meanings = copy(meanings);
        words = copy(words);
        names = Map.copyOf(names);
    }

    private static Map<String, Set<Meaning>> copy(Map<String, Set<Meaning>> words) {
        return words.entrySet().stream()
                .collect(Collectors.toUnmodifiableMap(Map.Entry::getKey, entry -> Set.copyOf(entry.getValue())));
    }

    /** The words of a language on the classpath; see {@link #load(String, LanguageFiles)}. */
    public static Vocabulary load(String language) {
        return load(language, LanguageFiles.BUILT_IN);
    }

    /**
     * Loads {@code language/<language>.properties}: for each {@link Meaning#key()} its words, with spaces between.
     *
     * @param language two to eight letters a-z
     * @throws IllegalArgumentException if there is no such file, or it misses a key or has an unknown one
     */
    public static Vocabulary load(String language, LanguageFiles files) {
        try {
            return parse(language, files.read("language", language));
        } catch (IllegalArgumentException e) {
            throw new IllegalArgumentException("words of " + language + ": " + e.getMessage(), e);
        }
    }

    /**
     * The words of every language, by its code. Where one has no meaning for a word, English has; and the words that
     * ask for a language are known in all of them, so that nobody is stuck in one.
     */
    public static SortedMap<String, Vocabulary> all(LanguageFiles files) {
        SortedMap<String, Vocabulary> own = new TreeMap<>();
        files.codes().forEach(code -> own.put(code, load(code, files)));
        Vocabulary english = own.computeIfAbsent("en", code -> load(code, files));
        SortedMap<String, Vocabulary> all = new TreeMap<>();
        own.forEach((code, words) -> {
            Vocabulary known = words.or(english);
            for (Vocabulary other : own.values()) {
                known = known.or(other.thatAskForALanguage());
            }
            all.put(code, known);
        });
        return all;
    }

    /** These words, and another's that are not among them. */
    Vocabulary or(Vocabulary other) {
        Map<String, Set<Meaning>> both = new HashMap<>(other.meanings);
        both.putAll(meanings);
        Map<String, Set<Meaning>> written = new HashMap<>(other.words);
        written.putAll(words);
        Map<String, String> named = new HashMap<>(other.names);
        named.putAll(names);
        return new Vocabulary(both, written, named);
    }

    private Vocabulary thatAskForALanguage() {
        return new Vocabulary(thatAskForALanguage(meanings), thatAskForALanguage(words), names);
    }

    private static Map<String, Set<Meaning>> thatAskForALanguage(Map<String, Set<Meaning>> words) {
        return words.entrySet().stream()
                .filter(word -> word.getValue().equals(Set.of(Meaning.LANGUAGE))
                        || word.getValue().equals(Set.of(Meaning.NAME)))
                .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
    }

    private static Vocabulary parse(String language, Properties file) {
        Map<Meaning, List<String>> words = new HashMap<>();
        for (Meaning meaning : Meaning.values()) {
            String line = file.getProperty(meaning.key());
            if (line == null) {
                throw new IllegalArgumentException("vocabulary without " + meaning.key());
            }
            words.put(meaning, line.isBlank() ? List.of() : List.of(line.strip().split("\\s+", -1)));
        }
        if (file.size() != words.size()) {
            throw new IllegalArgumentException("vocabulary with unknown keys among " + file.stringPropertyNames());
        }
        return of(language, words);
    }

    private static Vocabulary of(String language, Map<Meaning, List<String>> words) {
        Map<String, Set<Meaning>> meanings = new HashMap<>();
        Map<String, Set<Meaning>> written = new HashMap<>();
        words.forEach((meaning, list) -> list.forEach(word -> {
            written.computeIfAbsent(Signs.plain(word).toLowerCase(Locale.ROOT), unseen -> EnumSet.noneOf(Meaning.class))
                    .add(meaning);
            for (String look : looks(Signs.plain(word))) {
                meanings.computeIfAbsent(look, unseen -> EnumSet.noneOf(Meaning.class))
                        .add(meaning);
            }
        }));
        Map<String, String> names = new HashMap<>();
        words.getOrDefault(Meaning.NAME, List.of())
                .forEach(name -> looks(Signs.plain(name)).forEach(look -> names.put(look, language)));
        return new Vocabulary(meanings, written, names);
    }

    /** What a word can stand for; empty if it is not known. */
    Set<Meaning> of(String word) {
        return find(meanings, word).orElse(Set.of());
    }

    /** The code of the language with that name. */
    Optional<String> named(String name) {
        return find(names, name);
    }

    private static <T> Optional<T> find(Map<String, T> words, String word) {
        if (word.length() > LONGEST_WORD) {
            return Optional.empty();
        }
        for (String look : looks(word)) {
            T found = words.get(look);
            if (found != null) {
                return Optional.of(found);
            }
        }
        return Optional.empty();
    }

    /** How a word looks in small and in capital letters: В looks like B, but в does not look like b. */
    private static List<String> looks(String plain) {
        return List.of(
                LOOKS.getSkeleton(plain.toLowerCase(Locale.ROOT)), LOOKS.getSkeleton(plain.toUpperCase(Locale.ROOT)));
    }
}
