package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.messaging.language.Token.Kind;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/**
 * The acts a line begins with.
 *
 * @param meanings the acts: several only of the morning's visit
 * @param end how many tokens they took
 */
record Acts(Set<Meaning> meanings, int end) {

    /** Reads the act-part; help is not an act. */
    static Acts read(List<Token> tokens, Vocabulary vocabulary) {
        return new Parser(tokens, vocabulary).read();
    }

    Set<Deed> deeds() {
        Set<Deed> deeds = EnumSet.noneOf(Deed.class);
        for (Meaning meaning : meanings) {
            Deed deed = meaning.deed();
            if (deed != null) {
                deeds.add(deed);
            }
        }
        return deeds;
    }

    boolean has(Meaning act) {
        return meanings.contains(act);
    }

    /** Whether ties can be named with them. */
    boolean takeTies() {
        return has(Meaning.TIED) || ofFruit() || has(Meaning.ASKED) || has(Meaning.TAKEN_BACK);
    }

    /** Whether it can be said which males were used. */
    boolean takeSires() {
        return has(Meaning.PEGGED) || has(Meaning.POLLINATED);
    }

    /** Whether they are about flowers, which are on a plant. */
    boolean ofFlowers() {
        return ofWork() && !ofFruit() && !has(Meaning.FINISHED);
    }

    /** Whether they report work, which was done at some time. */
    boolean ofWork() {
        return !has(Meaning.ASKED) && !has(Meaning.TAKEN_BACK);
    }

    boolean ofFruit() {
        return has(Meaning.UNBAGGED) || has(Meaning.CULLED) || has(Meaning.HARVESTED);
    }

    private static final class Parser {

        /** Deeds of two keys. */
        private static final Set<String> PAIRS = Set.of("40", "90");

        private final List<Token> tokens;
        private final Vocabulary vocabulary;
        private final EnumSet<Meaning> acts = EnumSet.noneOf(Meaning.class);
        private int next;

        Parser(List<Token> tokens, Vocabulary vocabulary) {
            this.tokens = tokens;
            this.vocabulary = vocabulary;
        }

        Acts read() {
            Token first = tokens.get(0);
            switch (first.kind()) {
                case NUMBER -> keys();
                case WORD -> words();
                case PLANT -> throw new Stuck(Problem.PLANT, first);
                case DASH -> throw new Stuck(Problem.NO_ACT, first);
            }
            return new Acts(acts, next);
        }

        private void keys() {
            Token run = tokens.get(next++);
            String digits = run.text();
            if (PAIRS.contains(digits)) {
                acts.add(Meaning.ofKey(Integer.parseInt(digits)));
                return;
            }
            char highest = 0;
            for (int i = 0; i < digits.length(); i++) {
                char digit = digits.charAt(i);
                if (digits.length() > 1 && (!ofTheVisit(digit) || digit <= highest)) {
                    throw new Stuck(Problem.MIXED_ACTS, run);
                }
                highest = digit;
                acts.add(Meaning.ofKey(digit - '0'));
            }
            if (ofTheVisit(highest)) {
                joinedKeys(highest);
            }
        }

        /** {@code 2+3+4} and {@code 2 and 3 and 4}: without this, 3 would be taken for a row. */
        private void joinedKeys(char last) {
            char highest = last;
            while (true) {
                int number = at(next, Meaning.AND) ? next + 1 : next;
                if (number >= tokens.size()) {
                    return;
                }
                Token token = tokens.get(number);
                boolean joined = token.plus() || number > next;
                if (!joined
                        || !token.is(Kind.NUMBER)
                        || token.text().length() > 1
                        || !ofTheVisit(token.text().charAt(0))) {
                    return;
                }
                if (token.text().charAt(0) <= highest) {
                    throw new Stuck(Problem.MIXED_ACTS, token);
                }
                highest = token.text().charAt(0);
                acts.add(Meaning.ofKey(highest - '0'));
                next = number + 1;
            }
        }

        private static boolean ofTheVisit(char digit) {
            return digit >= '2' && digit <= '5';
        }

        private void words() {
            while (next < tokens.size()) {
                if (!acts.isEmpty() && skipped()) {
                    next++;
                    continue;
                }
                int length = 2;
                Set<Meaning> found = next + 1 < tokens.size() && isWord(next + 1)
                        ? vocabulary.of(text(next) + text(next + 1))
                        : Set.of();
                if (found.stream().noneMatch(Meaning::isAct)) {
                    length = 1;
                    found = isWord(next) ? vocabulary.of(text(next)) : Set.of();
                }
                Meaning act = found.stream().filter(Meaning::isAct).findFirst().orElse(null);
                if (act == null || labelsATie(found)) {
                    break;
                }
                if (!acts.isEmpty() && !acts.contains(act) && !(act.canBeJoined() && allCanBeJoined())) {
                    throw new Stuck(Problem.MIXED_ACTS, tokens.get(next));
                }
                acts.add(act);
                next += length;
            }
            if (acts.isEmpty()) {
                throw new Stuck(Problem.NO_ACT, tokens.get(0));
            }
        }

        /** "tie" after an act that takes ties, but not together with tying, is the small word: cull tie 4711. */
        private boolean labelsATie(Set<Meaning> found) {
            return found.contains(Meaning.TIE) && new Acts(acts, next).takeTies() && !allCanBeJoined();
        }

        private boolean allCanBeJoined() {
            return acts.stream().allMatch(Meaning::canBeJoined);
        }

        /** "and", and a dash between words. */
        private boolean skipped() {
            boolean beforeWord = next + 1 < tokens.size() && isWord(next + 1);
            return at(next, Meaning.AND) || (tokens.get(next).is(Kind.DASH) && beforeWord);
        }

        private boolean at(int index, Meaning meaning) {
            return index < tokens.size()
                    && isWord(index)
                    && vocabulary.of(text(index)).contains(meaning);
        }

        private boolean isWord(int index) {
            return tokens.get(index).is(Kind.WORD);
        }

        private String text(int index) {
            return tokens.get(index).text();
        }
    }
}
