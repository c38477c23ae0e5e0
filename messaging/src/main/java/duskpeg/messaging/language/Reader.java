package duskpeg.messaging.language;

import duskpeg.core.crew.Holdings;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import java.util.ArrayList;
import java.util.List;

/** Reads the texts of crews. Immutable. */
public final class Reader {

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
     * back as {@link Reading.Unread}.
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
        int at = 0;
        for (int end = 0; end <= words.length(); end++) {
            if (end < words.length() && !Signs.endsLine(words.charAt(end))) {
                continue;
            }
            Lexer.Lexed lexed = Lexer.lex(words, at, end);
            if (!lexed.tokens().isEmpty() || lexed.asks()) {
                Reading reading = lexed.tokens().isEmpty()
                        ? new Reading.Asked(new Ask.Help())
                        : new LineReader(vocabulary, farm, tieWidth, budget, lexed.tokens()).read(words);
                lines.add(new Line(lines.size() + 1, at, words.substring(at, end), reading));
            }
            at = end + 1;
        }
        if (lines.isEmpty()) {
            return List.of(new Line(1, 0, words, new Reading.Unread(Problem.EMPTY, 0, "")));
        }
        return List.copyOf(lines);
    }
}
