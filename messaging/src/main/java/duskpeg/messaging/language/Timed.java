package duskpeg.messaging.language;

import duskpeg.core.report.When;
import duskpeg.messaging.language.Token.Kind;
import java.time.Duration;
import java.time.LocalTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * When a line says that it was done: its last words.
 *
 * @param when the time; {@link When.Now} if the line says none
 * @param start how many tokens come before it: all of them if it says none
 */
record Timed(When when, int start) {

    /**
     * Reads the time at the end of a line.
     *
     * @param tokens the whole line
     * @param from where its acts end
     * @param text the whole text, which the tokens point into
     * @throws Stuck if the line has words of a time that are none
     */
    static Timed read(List<Token> tokens, int from, Vocabulary vocabulary, String text) {
        return new Parser(tokens, vocabulary, text).read(from);
    }

    private static final class Parser {

        private static final int LONGEST_CLOCK = 4;

        private final List<Token> tokens;
        private final Vocabulary vocabulary;
        private final String text;
        private final int end;
        private int next;

        Parser(List<Token> tokens, Vocabulary vocabulary, String text) {
            this.tokens = tokens;
            this.vocabulary = vocabulary;
            this.text = text;
            int last = tokens.size();
            while (tokens.get(last - 1).is(Kind.DASH)) {
                last--;
            }
            this.end = last;
        }

        Timed read(int from) {
            if (end - 1 >= from && says(end - 1, Meaning.AGO)) {
                return ago(from);
            }
            next = from;
            while (next < end && !says(next, Meaning.AT) && !says(next, Meaning.YESTERDAY)) {
                next++;
            }
            return next == end ? new Timed(new When.Now(), tokens.size()) : onTheClock(next);
        }

        /** {@code 30 min ago}. */
        private Timed ago(int from) {
            int start = end - 3;
            boolean minutes = says(end - 2, Meaning.MINUTES);
            if (start < from || !tokens.get(start).is(Kind.NUMBER) || !(minutes || says(end - 2, Meaning.HOURS))) {
                throw new Stuck(Problem.BAD_TIME, tokens.get(end - 1));
            }
            Token number = tokens.get(start);
            if (number.text().length() <= LONGEST_CLOCK) {
                int said = Integer.parseInt(number.text());
                Duration time = minutes ? Duration.ofMinutes(said) : Duration.ofHours(said);
                if (said > 0 && time.compareTo(When.Ago.LONGEST) <= 0) {
                    return new Timed(new When.Ago(time), start);
                }
            }
            throw new Stuck(Problem.BAD_TIME, number, tokens.get(end - 1));
        }

        /** {@code at 0730}, {@code yesterday}, {@code yesterday 1815}, {@code at 1815 yesterday}. */
        private Timed onTheClock(int start) {
            boolean yesterday = skip(Meaning.YESTERDAY);
            boolean at = false;
            while (skip(Meaning.AT)) {
                // A language may say it in two words, as "a las".
                at = true;
            }
            LocalTime clock = at || next < end ? clock() : null;
            if (clock != null && !yesterday) {
                yesterday = skip(Meaning.YESTERDAY);
            }
            if (next < end || (at && clock == null)) {
                throw new Stuck(Problem.BAD_TIME, tokens.get(start), tokens.get(Math.min(next, end - 1)));
            }
            return new Timed(yesterday || clock == null ? new When.Yesterday(clock) : new When.At(clock), start);
        }

        /** {@code 0730}, {@code 730}, {@code 7:30} or {@code 7h30}; null, and stuck there, if it is none. */
        private @Nullable LocalTime clock() {
            String first = number(next);
            if (first.length() == 3 || first.length() == LONGEST_CLOCK) {
                int hours = first.length() - 2;
                return clock(first.substring(0, hours), first.substring(hours), 1);
            }
            if (first.isEmpty() || first.length() > 2) {
                return null;
            }
            if (number(next + 1).length() == 2 && isColon(tokens.get(next), tokens.get(next + 1))) {
                return clock(first, number(next + 1), 2);
            }
            if (says(next + 1, Meaning.HOURS)
                    && tokens.get(next + 1).glued()
                    && number(next + 2).length() == 2
                    && tokens.get(next + 2).glued()) {
                return clock(first, number(next + 2), 3);
            }
            return null;
        }

        private @Nullable LocalTime clock(String hours, String minutes, int length) {
            int hour = Integer.parseInt(hours);
            int minute = Integer.parseInt(minutes);
            if (hour > 23 || minute > 59) {
                next += length - 1;
                return null;
            }
            next += length;
            return LocalTime.of(hour, minute);
        }

        /** The digits of the number there; none if there is no number. */
        private String number(int place) {
            return place < end && tokens.get(place).is(Kind.NUMBER)
                    ? tokens.get(place).text()
                    : "";
        }

        /** Whether a colon and nothing else stands between two tokens. */
        private boolean isColon(Token before, Token after) {
            StringBuilder between = new StringBuilder();
            Signs.plain(text.substring(before.end(), after.at()))
                    .codePoints()
                    .filter(c -> Signs.of(c) != Signs.Sign.NOTHING)
                    .forEach(between::appendCodePoint);
            return between.toString().equals(":");
        }

        /** Passes over the words of that meaning: in some languages "at" has two. */
        private boolean skip(Meaning meaning) {
            int start = next;
            while (says(next, meaning)) {
                next++;
            }
            return next > start;
        }

        private boolean says(int place, Meaning meaning) {
            return place >= 0
                    && place < end
                    && tokens.get(place).is(Kind.WORD)
                    && vocabulary.of(tokens.get(place).text()).contains(meaning);
        }
    }
}
