package duskpeg.messaging.language;

import com.ibm.icu.lang.UCharacter;
import duskpeg.messaging.language.Signs.Sign;
import duskpeg.messaging.language.Token.Kind;
import java.util.ArrayList;
import java.util.List;

/** Takes one line apart into tokens. One pass, made for one line and thrown away. */
final class Lexer {

    private final List<Token> tokens = new ArrayList<>();
    private final List<Part> chunk = new ArrayList<>();
    private boolean plus;
    private boolean asks;

    /** A plain character and the stretch of the text it came from. */
    private record Part(Sign sign, int plain, int source, int at, int end) {

        boolean isDigit() {
            return sign == Sign.DIGIT;
        }

        /** Its digit, also for a letter that is taken for one; '\0' if it has none. */
        char digit() {
            return isDigit() ? (char) ('0' + UCharacter.digit(plain, 10)) : Signs.digitLike(source);
        }
    }

    /**
     * @param tokens in the order of the line
     * @param asks whether it has a question mark
     */
    record Lexed(List<Token> tokens, boolean asks) {}

    private Lexer() {}

    /** The tokens of {@code text} from {@code from} to {@code to}, exclusive. */
    static Lexed lex(String text, int from, int to) {
        Lexer lexer = new Lexer();
        int at = from;
        while (at < to) {
            int c = text.codePointAt(at);
            int end = Math.min(to, at + Character.charCount(c));
            lexer.take(c, at, end);
            at = end;
        }
        lexer.endChunk();
        return new Lexed(List.copyOf(lexer.tokens), lexer.asks);
    }

    private void take(int source, int at, int end) {
        String plain = Signs.plain(source);
        for (int i = 0; i < plain.length(); ) {
            int c = plain.codePointAt(i);
            i += Character.charCount(c);
            Sign sign = Signs.of(c);
            switch (sign) {
                case NOTHING -> {}
                case DIGIT, LETTER, DOT -> chunk.add(new Part(sign, c, source, at, end));
                default -> {
                    endChunk();
                    plus |= sign == Sign.PLUS;
                    asks |= sign == Sign.QUESTION;
                    if (sign == Sign.DASH && !tokens.isEmpty()) {
                        add(Kind.DASH, "-", at, end, false);
                    } else if (sign == Sign.AT) {
                        add(Kind.WORD, "@", at, end, false);
                    }
                }
            }
        }
    }

    /** Reads what was collected since the last space: pieces with dots between. */
    private void endChunk() {
        int piece = 0;
        int dots = 0;
        boolean first = true;
        for (int i = 0; i <= chunk.size(); i++) {
            if (i < chunk.size() && chunk.get(i).sign() != Sign.DOT) {
                continue;
            }
            if (i > piece) {
                int before = tokens.size();
                piece(chunk.subList(piece, i));
                if (!first && tokens.size() > before) {
                    joinAcrossDots(before, dots);
                }
                first = false;
                dots = 0;
            }
            dots++;
            piece = i + 1;
        }
        chunk.clear();
    }

    /** One dot between numbers makes a plant's name; more are a dash. Dots beside a word mean nothing. */
    private void joinAcrossDots(int right, int dots) {
        Token before = tokens.get(right - 1);
        Token after = tokens.get(right);
        boolean numbers = (before.is(Kind.NUMBER) || before.is(Kind.PLANT)) && after.is(Kind.NUMBER);
        if (numbers && dots == 1) {
            // A third number makes it no plant, and its text needs not be kept.
            String plant = before.is(Kind.NUMBER) ? before.text() + "." + after.text() : "";
            tokens.set(
                    right - 1, new Token(Kind.PLANT, plant, before.at(), after.end(), before.glued(), before.plus()));
            tokens.remove(right);
        } else if (numbers) {
            tokens.add(right, new Token(Kind.DASH, "-", before.end(), after.at(), false, false));
        }
    }

    /** Letters and digits without a dot: one number, or letters and numbers by turns. */
    private void piece(List<Part> parts) {
        int firstDigit = 0;
        while (firstDigit < parts.size() && !parts.get(firstDigit).isDigit()) {
            firstDigit++;
        }
        if (firstDigit == parts.size()) {
            word(parts, false);
        } else if (isNumber(parts)) {
            number(parts, false);
        } else {
            if (firstDigit > 0) {
                word(parts.subList(0, firstDigit), false);
            }
            List<Part> rest = parts.subList(firstDigit, parts.size());
            if (isNumber(rest)) {
                number(rest, firstDigit > 0);
            } else {
                byTurns(rest, firstDigit > 0);
            }
        }
    }

    private void byTurns(List<Part> parts, boolean glued) {
        int start = 0;
        for (int i = 1; i <= parts.size(); i++) {
            if (i == parts.size() || parts.get(i).isDigit() != parts.get(start).isDigit()) {
                List<Part> run = parts.subList(start, i);
                if (run.get(0).isDigit()) {
                    number(run, glued || start > 0);
                } else {
                    word(run, glued || start > 0);
                }
                start = i;
            }
        }
    }

    private static boolean isNumber(List<Part> parts) {
        return parts.stream().allMatch(part -> part.digit() != '\0');
    }

    private void number(List<Part> parts, boolean glued) {
        StringBuilder digits = new StringBuilder(parts.size());
        parts.forEach(part -> digits.append(part.digit()));
        add(Kind.NUMBER, digits.toString(), parts, glued);
    }

    private void word(List<Part> parts, boolean glued) {
        StringBuilder letters = new StringBuilder(parts.size());
        parts.forEach(part -> letters.appendCodePoint(part.plain()));
        if (!letters.toString().equals("|") || parts.size() < chunk.size()) {
            add(Kind.WORD, letters.toString(), parts, glued);
        }
    }

    private void add(Kind kind, String text, List<Part> parts, boolean glued) {
        add(kind, text, parts.get(0).at(), parts.get(parts.size() - 1).end(), glued);
    }

    private void add(Kind kind, String text, int at, int end, boolean glued) {
        tokens.add(new Token(kind, text, at, end, glued, plus));
        plus = false;
    }
}
