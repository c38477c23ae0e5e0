package duskpeg.messaging.language;

import duskpeg.messaging.language.Token.Kind;
import info.debatty.java.stringsimilarity.Damerau;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Takes words that are not known for known ones, where that can be one meaning only. Made for one text and thrown away.
 *
 * <p>Words are near where few letters must be put in, left out, changed, or swapped with a neighbour to make one of the
 * other (F. J. Damerau, "A technique for computer detection and correction of spelling errors", Communications of the
 * ACM 7 (3), 1964): one in a word of four to seven letters, two from eight on. Shorter words and numbers are never taken
 * for others.
 */
final class Nearness {

    private static final int SHORTEST = 4;
    private static final int SHORTEST_FOR_A_PERSON = 3;
    private static final int LONG = 8;
    private static final int LONGEST = 24;

    /** With more words that are not known a line is prose. */
    private static final int MOST_IN_A_LINE = 3;

    /** A text of nothing but unknown words must not cost more than its length. */
    private static final int MOST_IN_A_TEXT = 40;

    private final Damerau damerau = new Damerau();
    private final Vocabulary vocabulary;
    private final Map<String, Optional<Word>> found = new HashMap<>();

    private record Word(String word, Set<Meaning> meanings) {}

    /**
     * A line in which words were taken for others.
     *
     * @param tokens its tokens, with the words that were meant
     * @param forgiven which they are
     */
    record Forgiving(List<Token> tokens, List<Forgiven> forgiven) {}

    Nearness(Vocabulary vocabulary) {
        this.vocabulary = vocabulary;
    }

    /** The line with the words that are meant; as it is where none is certain. */
    Forgiving read(List<Token> tokens, String text) {
        List<Integer> unknown = new ArrayList<>();
        for (int i = 0; i < tokens.size() && unknown.size() <= MOST_IN_A_LINE; i++) {
            if (isUnknown(tokens, i)) {
                unknown.add(i);
            }
        }
        List<Token> meant = new ArrayList<>(tokens);
        List<Forgiven> forgiven = new ArrayList<>();
        if (unknown.size() <= MOST_IN_A_LINE) {
            for (int place : unknown) {
                Token token = tokens.get(place);
                near(token.text()).ifPresent(word -> {
                    meant.set(place, token.as(Kind.WORD, word.word()));
                    forgiven.add(new Forgiven(
                            text.substring(token.at(), token.end()),
                            word.word(),
                            word.meanings().stream()
                                    .filter(Meaning::isAct)
                                    .findFirst()
                                    .map(Meaning::deed)
                                    .orElse(null)));
                });
            }
        }
        return new Forgiving(List.copyOf(meant), List.copyOf(forgiven));
    }

    /** Whether it is a word that is not known, neither alone nor with the word beside it. */
    private boolean isUnknown(List<Token> tokens, int place) {
        return tokens.get(place).is(Kind.WORD)
                && vocabulary.of(tokens.get(place).text()).isEmpty()
                && !areKnown(tokens, place - 1)
                && !areKnown(tokens, place);
    }

    private boolean areKnown(List<Token> tokens, int first) {
        return first >= 0
                && first + 1 < tokens.size()
                && tokens.get(first).is(Kind.WORD)
                && tokens.get(first + 1).is(Kind.WORD)
                && !vocabulary
                        .of(tokens.get(first).text() + tokens.get(first + 1).text())
                        .isEmpty();
    }

    private Optional<Word> near(String said) {
        String word = said.toLowerCase(Locale.ROOT);
        Optional<Word> known = found.get(word);
        if (known == null && found.size() < MOST_IN_A_TEXT) {
            known = search(word);
            found.put(word, known);
        }
        return known == null ? Optional.empty() : known;
    }

    private Optional<Word> search(String word) {
        if (word.length() < SHORTEST || word.length() > LONGEST) {
            return Optional.empty();
        }
        Set<Meaning> common = EnumSet.allOf(Meaning.class);
        SortedMap<String, Integer> around = around(word);
        around.keySet().forEach(other -> common.retainAll(meanings(other)));
        return !around.isEmpty() && !common.isEmpty() && common.stream().allMatch(Meaning::canBeForgiven)
                ? around.entrySet().stream()
                        .min(Map.Entry.comparingByValue())
                        .map(nearest -> new Word(nearest.getKey(), common))
                : Optional.empty();
    }

    private Set<Meaning> meanings(String word) {
        return vocabulary.words().getOrDefault(word, Set.of());
    }

    /** Every known word that is near, whatever it means, and how far it is; for a person to choose from. */
    SortedMap<String, Integer> around(String said) {
        String word = said.toLowerCase(Locale.ROOT);
        SortedMap<String, Integer> around = new TreeMap<>();
        if (word.length() < SHORTEST_FOR_A_PERSON || word.length() > LONGEST) {
            return around;
        }
        int most = word.length() < LONG ? 1 : 2;
        for (String other : vocabulary.words().keySet()) {
            int distance =
                    Math.abs(other.length() - word.length()) > most ? most + 1 : (int) damerau.distance(word, other);
            if (distance <= most && other.length() >= SHORTEST_FOR_A_PERSON) {
                around.put(other, distance);
            }
        }
        return around;
    }

    /** The known words that this may be short for: they begin alike, and have its letters in its order. */
    List<String> shortFor(String said) {
        String word = said.toLowerCase(Locale.ROOT);
        return word.length() < SHORTEST_FOR_A_PERSON || word.length() > LONGEST
                ? List.of()
                : vocabulary.words().keySet().stream()
                        .filter(other -> other.charAt(0) == word.charAt(0) && hasInOrder(other, word))
                        .sorted()
                        .toList();
    }

    private static boolean hasInOrder(String word, String letters) {
        int found = 0;
        for (int i = 0; i < word.length() && found < letters.length(); i++) {
            if (word.charAt(i) == letters.charAt(found)) {
                found++;
            }
        }
        return found == letters.length();
    }
}
