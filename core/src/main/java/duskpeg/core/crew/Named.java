package duskpeg.core.crew;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Finds a person in other people's words: by her whole name, by any one word of it of at least {@value #SHORTEST}
 * letters, or by one of her numbers. Case and accents make no difference, nor do spaces and signs within a number, nor
 * how its country is written. A name that is also a word of the language is found where only the word is meant, and a
 * nickname is not found.
 */
public final class Named {

    private static final int SHORTEST = 3;

    /** The digits of a number that are dialled within any country. */
    private static final int NATIONAL = 9;

    private final Pattern pattern;

    /**
     * @param name her name; blank for none
     * @param phones her numbers
     */
    public Named(String name, Collection<String> phones) {
        List<String> ways = new ArrayList<>();
        List<String> words = List.of(plain(name).strip().split("\\s+"));
        if (!words.get(0).isEmpty()) {
            ways.add(word(words.stream().map(Pattern::quote).collect(Collectors.joining("\\s+"))));
        }
        words.stream()
                .filter(word -> word.length() >= SHORTEST)
                .map(word -> word(Pattern.quote(word)))
                .forEach(ways::add);
        phones.stream()
                .map(phone -> phone.replaceAll("[^0-9]", ""))
                .filter(digits -> !digits.isEmpty())
                .map(digits -> digits.substring(Math.max(0, digits.length() - NATIONAL)))
                .map(digits -> String.join("[\\s().-]*", digits.split("")) + "(?![0-9])")
                .forEach(ways::add);
        // An empty alternative would be found everywhere, and none at all must be found nowhere.
        pattern = Pattern.compile(ways.isEmpty() ? "(?!)" : String.join("|", ways));
    }

    private static String word(String quoted) {
        return "(?<![\\p{L}\\p{N}])" + quoted + "(?![\\p{L}\\p{N}])";
    }

    private static String plain(String words) {
        return Normalizer.normalize(words, Normalizer.Form.NFKD)
                .replaceAll("\\p{M}", "")
                .toLowerCase(Locale.ROOT);
    }

    /** Whether she is named in these words. */
    public boolean in(String words) {
        return pattern.matcher(plain(words)).find();
    }
}
