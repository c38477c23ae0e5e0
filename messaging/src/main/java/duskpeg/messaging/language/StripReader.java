package duskpeg.messaging.language;

import duskpeg.core.crew.Strip;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.messaging.language.StripLine.Kind;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Reads a line about ties before they are put on: one that begins with the word for a strip or for damage. Made for one line and thrown away.
 *
 * <p>Words that mean nothing here are names: people are called by the name the farm knows them by, or by the last four
 * digits of their phone behind a word that says that a person follows.
 */
final class StripReader {

    private static final int PHONE_END = 4;

    private final Vocabulary vocabulary;
    private final int tieWidth;
    private final TieList ties;
    private final List<Token> tokens;
    private final StringBuilder worker = new StringBuilder();
    private final StringBuilder to = new StringBuilder();
    private @Nullable Kind kind;
    private @Nullable Token first;
    private @Nullable Token last;
    private boolean printed;

    StripReader(Vocabulary vocabulary, int tieWidth, TieList ties, List<Token> tokens) {
        this.vocabulary = vocabulary;
        this.tieWidth = tieWidth;
        this.ties = ties;
        this.tokens = tokens;
    }

    /** Whether the line is one about strips. */
    boolean begins() {
        boolean goneFirst = says(0, Meaning.LOST) || says(0, Meaning.RETURNED) || says(0, Meaning.TAKEN_BACK);
        return says(0, Meaning.STRIP) || says(0, Meaning.DAMAGED) || (goneFirst && says(1, Meaning.STRIP));
    }

    /**
     * Reads the line.
     *
     * @throws Stuck if it can't be read
     */
    StripLine read() {
        boolean damage = false;
        for (Token token : tokens) {
            damage |= token.is(Token.Kind.WORD) && meanings(token).contains(Meaning.DAMAGED);
        }
        if (damage) {
            kind = Kind.DAMAGED;
        }
        for (int i = 0; i < tokens.size(); i++) {
            Token token = tokens.get(i);
            switch (token.kind()) {
                case PLANT -> throw new Stuck(Problem.PLANT, token);
                case DASH -> {
                    // A range where a number is on both sides; elsewhere it parts words.
                }
                case NUMBER -> i = damage ? damaged(i) : number(i);
                case WORD -> i = word(i);
            }
        }
        return line(damage);
    }

    /** Takes a word; gives the place of the last token that was taken. */
    private int word(int place) {
        Token token = tokens.get(place);
        Set<Meaning> meanings = meanings(token);
        if (says(place, Meaning.TO) || says(place, Meaning.GIVEN)) {
            be(Kind.HANDED_OVER, token);
            return person(to, place);
        }
        if (meanings.contains(Meaning.WORKER)) {
            return person(worker, place);
        }
        if (meanings.contains(Meaning.LOST)) {
            be(Kind.LOST, token);
        } else if (meanings.contains(Meaning.RETURNED) || meanings.contains(Meaning.TAKEN_BACK)) {
            be(Kind.RETURNED, token);
        } else if (meanings.contains(Meaning.ASKED)) {
            be(Kind.ASKED, token);
        } else if (meanings.contains(Meaning.PRINTED)) {
            printed = true;
        } else if (meanings.isEmpty()) {
            (kind == Kind.HANDED_OVER && to.length() > 0 && lastWasName(place) ? to : worker).append(token.text());
        } else if (meanings.stream().noneMatch(StripReader::meansNothingMore)) {
            throw new Stuck(
                    meanings.stream().anyMatch(Meaning::isOfTime) ? Problem.BAD_TIME : Problem.NOT_A_NUMBER, token);
        }
        return place;
    }

    private static boolean meansNothingMore(Meaning meaning) {
        return switch (meaning) {
            case STRIP, DAMAGED, FROM, TIE, FILLER, AND -> true;
            default -> false;
        };
    }

    /** Whether the word follows on another of the same name: Ana Ortega. */
    private boolean lastWasName(int place) {
        Token before = tokens.get(place - 1);
        return before.is(Token.Kind.DASH)
                || (before.is(Token.Kind.WORD) && meanings(before).isEmpty());
    }

    /** Takes who is meant behind the word at that place. Whatever word comes there is a name. */
    private int person(StringBuilder who, int place) {
        int next = place + 1;
        while (says(next, Meaning.TO)
                || says(next, Meaning.GIVEN)
                || says(next, Meaning.WORKER)
                || says(next, Meaning.FILLER)) {
            next++;
        }
        if (next == tokens.size()) {
            throw new Stuck(Problem.NO_NAME, tokens.get(tokens.size() - 1).end());
        }
        Token token = tokens.get(next);
        boolean phone = token.is(Token.Kind.NUMBER) && token.text().length() == PHONE_END && rangeEnd(next) == next;
        if ((!phone && !token.is(Token.Kind.WORD)) || who.length() > 0) {
            throw new Stuck(who.length() > 0 ? Problem.TOO_MUCH : Problem.NO_NAME, token);
        }
        who.append(token.text());
        return next;
    }

    private void be(Kind said, Token token) {
        if (kind != null && kind != said) {
            throw new Stuck(Problem.MIXED_ACTS, token);
        }
        kind = said;
    }

    /** Takes a tie, or a range of them; gives the place of the last token that was taken. */
    private int number(int place) {
        Token token = tie(place);
        if (first != null) {
            throw new Stuck(Problem.TOO_MUCH, token);
        }
        first = token;
        int end = rangeEnd(place);
        if (end > place) {
            last = tie(end);
            return end;
        }
        return place;
    }

    private int damaged(int place) {
        Token token = tie(place);
        int end = rangeEnd(place);
        if (end > place) {
            ties.addRange(token, tie(end));
            return end;
        }
        ties.add(token);
        return place;
    }

    /** Where a range ends that begins at that place; that place itself where none does. */
    private int rangeEnd(int place) {
        boolean joined = place + 2 < tokens.size()
                && (tokens.get(place + 1).is(Token.Kind.DASH) || says(place + 1, Meaning.TO))
                && tokens.get(place + 2).is(Token.Kind.NUMBER);
        return joined ? place + 2 : place;
    }

    private Token tie(int place) {
        Token token = tokens.get(place);
        if (token.text().length() > tieWidth) {
            throw new Stuck(Problem.TOO_LONG, token);
        }
        if (token.isShort()) {
            throw new Stuck(Problem.UNCLEAR, token);
        }
        return token;
    }

    private StripLine line(boolean damage) {
        Token end = tokens.get(tokens.size() - 1);
        if (damage && ties.ties().isEmpty()) {
            throw new Stuck(Problem.NO_TIE, end.end());
        }
        if (last != null) {
            if (kind != null && kind != Kind.ISSUED) {
                throw new Stuck(Problem.TOO_MUCH, last);
            }
            kind = Kind.ISSUED;
        }
        if (kind == null) {
            kind = Kind.ASKED;
        }
        if (kind == Kind.ASKED && first != null) {
            // "strip 4716" begins nothing and ends nothing.
            throw new Stuck(Problem.BAD_RANGE, first);
        }
        return new StripLine(
                kind,
                worker.length() == 0 ? null : worker.toString(),
                to.length() == 0 ? null : to.toString(),
                first == null || last != null ? null : ties.one(first),
                strip(),
                ties.ties());
    }

    private @Nullable Strip strip() {
        if (first == null || last == null) {
            return null;
        }
        TieNumber from = ties.plain(first);
        TieNumber through = ties.plain(last);
        Numbering numbering = printed ? Numbering.CHECKED : ties.numberingOf(from);
        if (!numbering.has(from) || !numbering.has(through)) {
            throw new Stuck(Problem.CHECK_DIGIT, numbering.has(from) ? last : first);
        }
        if (from.compareTo(through) > 0 || new Strip(from, through, numbering).size() > TieList.MOST) {
            throw new Stuck(Problem.BAD_RANGE, first, last);
        }
        return new Strip(from, through, numbering);
    }

    private boolean says(int place, Meaning meaning) {
        return place < tokens.size()
                && tokens.get(place).is(Token.Kind.WORD)
                && meanings(tokens.get(place)).contains(meaning);
    }

    private Set<Meaning> meanings(Token word) {
        return vocabulary.of(word.text());
    }
}
