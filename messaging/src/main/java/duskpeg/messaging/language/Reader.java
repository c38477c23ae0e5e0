package duskpeg.messaging.language;

import duskpeg.core.crew.Holdings;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;

/** Reads the texts of crews. Immutable. */
public final class Reader {

    /**
     * How many lines of a text are read. A carrier joins at most ten segments to a text, 1,530 characters, which is 255
     * of the shortest reports ({@code 1 1 1}); a text that takes longer to write down would keep all others waiting.
     */
    public static final int MOST_LINES = 300;

    private static final Reading HELP = new Reading.Asked(new Ask.Help());

    private final Vocabulary vocabulary;

    /** A reader of one language; the keys 0 to 9 are the same in all. */
    public Reader(Vocabulary vocabulary) {
        this.vocabulary = vocabulary;
    }

    /** Reads a text on a farm whose ties have no check digits. */
    public List<Line> read(String words, FarmId farm, int tieWidth) {
        return read(words, farm, tieWidth, new Holdings(List.of()));
    }

    /**
     * Reads a text line by line. Any text can be read, in time proportional to its length; what makes no sense comes
     * back as {@link Reading.Unread}, and so does the line behind {@link #MOST_LINES} of them, where reading ends.
     *
     * @param words the text as it was sent
     * @param farm the farm its rows belong to
     * @param tieWidth how many digits the farm's tie numbers have
     * @param printed who held which of the tags that have a check digit: their numbers are read by it
     * @return at least one line: a text with nothing in it is one line that is {@link Problem#EMPTY}
     * @throws IllegalArgumentException if no farm can have that tie width
     */
    public List<Line> read(String words, FarmId farm, int tieWidth, Holdings printed) {
        if (tieWidth < TieNumber.MIN_WIDTH || tieWidth > TieNumber.MAX_WIDTH) {
            throw new IllegalArgumentException("tie width " + tieWidth);
        }
        List<Line> lines = new ArrayList<>();
        TieList.Budget budget = new TieList.Budget(printed);
        Nearness nearness = new Nearness(vocabulary);
        int at = 0;
        for (int end = 0; end <= words.length(); end++) {
            if (end < words.length() && !Signs.endsLine(words.charAt(end))) {
                continue;
            }
            Lexer.Lexed lexed = Lexer.lex(words, at, end);
            boolean nothing = lexed.tokens().isEmpty() && !lexed.asks();
            if (!nothing && lines.size() == MOST_LINES) {
                String line = words.substring(at, end);
                lines.add(new Line(MOST_LINES + 1, at, line, new Reading.Unread(Problem.TOO_MUCH, at, line)));
                break;
            }
            if (!nothing) {
                Line line = new Line(lines.size() + 1, at, words.substring(at, end), HELP);
                lines.add(
                        lexed.tokens().isEmpty()
                                ? line
                                : read(
                                        line,
                                        words,
                                        lexed.tokens(),
                                        tokens -> new LineReader(vocabulary, farm, tieWidth, budget, tokens),
                                        nearness));
            }
            at = end + 1;
        }
        if (lines.isEmpty()) {
            return List.of(new Line(1, 0, words, new Reading.Unread(Problem.EMPTY, 0, "")));
        }
        return List.copyOf(lines);
    }

    /** What can be read as it stands is; only what can't is read once more with the words that may be meant. */
    private Line read(
            Line line, String words, List<Token> tokens, Function<List<Token>, LineReader> readers, Nearness nearness) {
        Reading reading = readers.apply(tokens).read(words);
        List<Forgiven> forgiven = List.of();
        if (!isUnderstood(reading)) {
            Nearness.Forgiving meant = nearness.read(tokens, words);
            if (!meant.forgiven().isEmpty()) {
                Reading second = readers.apply(meant.tokens()).read(words);
                if (isUnderstood(second)) {
                    reading = second;
                    forgiven = meant.forgiven();
                }
            }
        }
        return new Line(line.number(), line.at(), line.words(), reading, forgiven);
    }

    private boolean isUnderstood(Reading reading) {
        if (reading instanceof Reading.Asked asked && asked.ask() instanceof Ask.Language language) {
            return vocabulary.names().containsValue(language.code());
        }
        return !(reading instanceof Reading.Unread);
    }
}
