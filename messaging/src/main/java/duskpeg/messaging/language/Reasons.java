package duskpeg.messaging.language;

import duskpeg.core.act.LossReason;
import duskpeg.messaging.language.Token.Kind;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Why flowers were lost, as a line says it in words: its last one or two, or the very word for losing them.
 *
 * @param reason why; null if no word says it
 * @param start how many tokens come before the words at the end: all of them if there are none
 */
record Reasons(@Nullable LossReason reason, int start) {

    /**
     * Reads the reason.
     *
     * @param tokens the line without the time it ends with
     * @param acts losing, which it begins with
     */
    static Reasons read(List<Token> tokens, Acts acts, Vocabulary vocabulary) {
        LossReason inTheAct = null;
        for (Token token : tokens.subList(0, acts.end())) {
            Set<Meaning> meanings = token.is(Kind.WORD) ? vocabulary.of(token.text()) : Set.of();
            LossReason reason = reason(meanings);
            inTheAct = meanings.contains(Meaning.LOST) && reason != null ? reason : inTheAct;
        }
        int end = tokens.size();
        while (tokens.get(end - 1).is(Kind.DASH)) {
            end--;
        }
        for (int length = 2; length >= 1; length--) {
            int start = end - length;
            LossReason reason = start < acts.end() ? null : reason(vocabulary.of(word(tokens.subList(start, end))));
            if (reason != null) {
                if (inTheAct != null && inTheAct != reason) {
                    throw new Stuck(Problem.TOO_MUCH, tokens.get(start), tokens.get(end - 1));
                }
                return new Reasons(reason, start);
            }
        }
        return new Reasons(inTheAct, tokens.size());
    }

    /** The reason a key stands for, told behind row and count; null if it stands for none. */
    static @Nullable LossReason ofKey(Token number) {
        for (LossReason reason : LossReason.values()) {
            if (number.text().equals(Integer.toString(reason.digit()))) {
                return reason;
            }
        }
        return null;
    }

    /** Words as one, as "peg off"; empty if there is a number among them. */
    private static String word(List<Token> tokens) {
        StringBuilder word = new StringBuilder();
        for (Token token : tokens) {
            if (!token.is(Kind.WORD)) {
                return "";
            }
            word.append(token.text());
        }
        return word.toString();
    }

    private static @Nullable LossReason reason(Set<Meaning> meanings) {
        for (Meaning meaning : meanings) {
            LossReason reason = meaning.reason();
            if (reason != null) {
                return reason;
            }
        }
        return null;
    }
}
