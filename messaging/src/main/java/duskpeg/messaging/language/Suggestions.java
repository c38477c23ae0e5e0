package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.crew.Holdings;
import duskpeg.core.farm.FarmId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.core.round.Tally;
import duskpeg.messaging.language.Token.Kind;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.PriorityQueue;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Several ways in which a line that could not be read may have been meant, for a person to choose from. Nothing is
 * ever read so by itself. Immutable.
 *
 * <p>A suggestion is a line that reads completely and reports work on rows that the farm has. Words may be taken for
 * near ones, left out or moved; of the numbers every digit stays, in its order, but for a row and a count that only
 * make sense the other way round. The one thing that may be added is the act of the worker's text before.
 */
public final class Suggestions {

    /** More would have to be studied, and a person who studies types it faster. */
    private static final int MOST = 3;

    private static final int MOST_READ = 400;
    private static final int DEAREST = 6;
    private static final int LONGEST_LINE = 160;
    private static final int LONGEST_RUN = 10;

    private static final int NEAR_WORD = 1;
    private static final int SHORT_FOR = 2;
    private static final int MOVED = 1;
    private static final int JOINED = 1;
    private static final int LEFT_OUT = 2;
    private static final int CUT = 1;
    private static final int SWAPPED = 2;
    private static final int SAME_ACT_AS_BEFORE = 2;
    private static final int IMPLAUSIBLE = 2;

    private final Reader reader;
    private final Vocabulary vocabulary;
    private final FarmId farm;
    private final int tieWidth;
    private final Holdings printed;
    private final Map<RowId, Integer> plants;

    /**
     * @param vocabulary the worker's language
     * @param tieWidth how many digits the farm's tie numbers have
     * @param printed who held which of the tags that have a check digit
     * @param plants how many plants each row of the farm has
     */
    public Suggestions(Vocabulary vocabulary, FarmId farm, int tieWidth, Holdings printed, Map<RowId, Integer> plants) {
        this.reader = new Reader(vocabulary);
        this.vocabulary = vocabulary;
        this.farm = farm;
        this.tieWidth = tieWidth;
        this.printed = printed;
        this.plants = Map.copyOf(plants);
    }

    /**
     * A way to read a text.
     *
     * @param words the text as it should have been; read in the worker's language it says just that
     * @param says what it records, in plain English
     * @param statements what it says, a statement for each of its lines
     */
    public record Suggestion(String words, String says, List<Statement> statements) {
        public Suggestion {
            statements = List.copyOf(statements);
        }
    }

    /** A line that might have been meant, and how far from what was sent it is. */
    private record Candidate(String words, int cost, int number) {}

    private record Found(String words, Statement statement, When when, int cost) {}

    /**
     * Suggests readings.
     *
     * @param words what was sent: one line or several
     * @param before the worker's text before it, as it was sent; empty if there is none
     * @return the nearest first, at most three; none where nothing is near, or where a line of several can't be read
     */
    public List<Suggestion> of(String words, String before) {
        List<Line> lines = reader.read(words, farm, tieWidth, printed);
        Set<Deed> deedsBefore = deeds(before);
        if (lines.size() == 1) {
            return ofLine(lines.get(0).words(), deedsBefore).stream()
                    .map(found -> suggestion(List.of(found)))
                    .toList();
        }
        List<Found> together = new ArrayList<>();
        for (Line line : lines) {
            List<Found> found = ofLine(line.words(), deedsBefore);
            if (found.isEmpty()) {
                return List.of();
            }
            together.add(found.get(0));
        }
        return List.of(suggestion(together));
    }

    private static Suggestion suggestion(List<Found> lines) {
        return new Suggestion(
                lines.stream().map(Found::words).collect(Collectors.joining("\n")),
                lines.stream()
                        .map(line -> Plainly.of(line.statement(), line.when()))
                        .collect(Collectors.joining("; ")),
                lines.stream().map(Found::statement).toList());
    }

    private Set<Deed> deeds(String before) {
        for (Line line : reader.read(before, farm, tieWidth, printed)) {
            if (line.reading() instanceof Reading.Said said
                    && said.statement() instanceof Statement.OnFlowers flowers
                    && !flowers.deeds().contains(Deed.LOST)) {
                return flowers.deeds();
            }
        }
        return EnumSet.noneOf(Deed.class);
    }

    private List<Found> ofLine(String line, Set<Deed> deedsBefore) {
        return line.length() > LONGEST_LINE ? List.of() : new Search(deedsBefore).from(line);
    }

    /** The nearest first. Made for one line and thrown away. */
    private final class Search {

        private final Set<Deed> deedsBefore;
        private final Nearness nearness = new Nearness(vocabulary);
        private final PriorityQueue<Candidate> waiting =
                new PriorityQueue<>(Comparator.comparingInt(Candidate::cost).thenComparingInt(Candidate::number));
        private final Set<String> seen = new HashSet<>();
        private final Map<Statement, Found> found = new LinkedHashMap<>();

        Search(Set<Deed> deedsBefore) {
            this.deedsBefore = deedsBefore;
        }

        List<Found> from(String line) {
            put(line, 0);
            for (int read = 0; read < MOST_READ && !waiting.isEmpty(); read++) {
                Candidate next = waiting.remove();
                Line only = onlyLine(next.words());
                if (only != null && only.reading() instanceof Reading.Said said) {
                    take(next, said);
                } else if (only != null && only.reading() instanceof Reading.Unread) {
                    change(next);
                }
            }
            return found.values().stream()
                    .sorted(Comparator.comparingInt(Found::cost))
                    .limit(MOST)
                    .toList();
        }

        private void put(String words, int cost) {
            if (cost <= DEAREST && seen.add(words)) {
                waiting.add(new Candidate(words, cost, seen.size()));
            }
        }

        private @Nullable Line onlyLine(String words) {
            List<Line> lines = reader.read(words, farm, tieWidth, printed);
            return lines.size() == 1 ? lines.get(0) : null;
        }

        private void take(Candidate candidate, Reading.Said said) {
            Statement statement = said.statement();
            RowId row = row(statement);
            if (!(statement instanceof Statement.OnFlowers
                    || statement instanceof Statement.OnFruit
                    || statement instanceof Statement.OnRow
                    || statement instanceof Statement.Finished)) {
                return;
            }
            if (row == null || plants.containsKey(row)) {
                find(statement, said.when(), candidate.cost());
            } else if (statement instanceof Statement.OnFlowers flowers) {
                swapped(flowers, said.when(), candidate.cost());
            }
        }

        /** A row that is not there, and a count that is one. */
        private void swapped(Statement.OnFlowers said, When when, int cost) {
            RowId row = new RowId(farm, Integer.toString(said.count()));
            if (plants.containsKey(row) && said.plant() == null && !(said.ties() instanceof Statement.Named)) {
                find(
                        new Statement.OnFlowers(
                                row,
                                said.deeds(),
                                Integer.parseInt(said.row().label()),
                                said.males(),
                                said.ties(),
                                said.reason(),
                                null,
                                said.sires()),
                        when,
                        cost + SWAPPED);
            }
        }

        private void find(Statement statement, When when, int cost) {
            String words = Printer.print(statement, when);
            Line line = onlyLine(words);
            // A language may have a use of its own for a word of time: then nothing is offered rather than another.
            if (line != null
                    && line.reading() instanceof Reading.Said said
                    && said.statement().equals(statement)
                    && said.when().equals(when)) {
                found.putIfAbsent(statement, new Found(words, statement, when, cost + implausibility(statement)));
            }
        }

        private int implausibility(Statement statement) {
            RowId row = row(statement);
            if (row == null || !(statement instanceof Statement.OnFlowers flowers)) {
                return 0;
            }
            Integer males = flowers.males();
            boolean oddMales =
                    males != null && (males < flowers.count() || males > 2 * Tally.MALES_PER_FEMALE * flowers.count());
            return (flowers.count() > plants.getOrDefault(row, 0) ? IMPLAUSIBLE : 0) + (oddMales ? IMPLAUSIBLE : 0);
        }

        private void change(Candidate candidate) {
            String words = candidate.words();
            int cost = candidate.cost();
            List<Token> tokens = Lexer.lex(words, 0, words.length()).tokens();
            for (Token token : tokens) {
                if (token.is(Kind.WORD)) {
                    changeWord(words, token, tokens.get(0).equals(token), cost);
                } else if (token.is(Kind.NUMBER)) {
                    cut(words, token, cost);
                }
            }
            join(words, tokens, cost);
            actAsBefore(words, tokens, cost);
        }

        private void changeWord(String words, Token token, boolean first, int cost) {
            Set<Meaning> meanings = vocabulary.of(token.text());
            if (meanings.isEmpty()) {
                nearness.around(token.text())
                        .forEach((near, far) -> put(replaced(words, token, near), cost + NEAR_WORD * far));
                nearness.shortFor(token.text()).forEach(whole -> put(replaced(words, token, whole), cost + SHORT_FOR));
                put(replaced(words, token, ""), cost + LEFT_OUT);
            } else if (!first && meanings.stream().anyMatch(Meaning::isAct)) {
                put(words.substring(token.at(), token.end()) + " " + replaced(words, token, ""), cost + MOVED);
            }
        }

        /** Digits that ran together: {@code 11214} is {@code 1 12 14}. */
        private void cut(String words, Token number, int cost) {
            String digits = number.text();
            if (digits.length() < 3 || digits.length() > LONGEST_RUN) {
                return;
            }
            for (int first = 1; first < digits.length(); first++) {
                String head = digits.substring(0, first) + " " + digits.substring(first);
                put(replaced(words, number, head), cost + CUT);
                for (int second = first + 1; second < digits.length(); second++) {
                    put(
                            replaced(
                                    words,
                                    number,
                                    digits.substring(0, first) + " " + digits.substring(first, second) + " "
                                            + digits.substring(second)),
                            cost + 2 * CUT);
                }
            }
        }

        /** Acts of one visit keyed apart: {@code 2 3 4 5 12 6} is {@code 2345 12 6}. */
        private void join(String words, List<Token> tokens, int cost) {
            StringBuilder acts = new StringBuilder();
            for (Token token : tokens) {
                if (!token.is(Kind.NUMBER)
                        || token.text().length() > 1
                        || (acts.length() > 0 && token.text().charAt(0) <= acts.charAt(acts.length() - 1))) {
                    return;
                }
                acts.append(token.text());
                if (acts.length() > 1) {
                    put(acts + words.substring(token.end()), cost + JOINED);
                }
            }
        }

        private void actAsBefore(String words, List<Token> tokens, int cost) {
            long numbers =
                    tokens.stream().filter(token -> token.is(Kind.NUMBER)).count();
            boolean noAct = tokens.stream()
                    .noneMatch(token -> token.is(Kind.WORD)
                            && vocabulary.of(token.text()).stream().anyMatch(Meaning::isAct));
            if (!deedsBefore.isEmpty() && noAct && numbers >= 2) {
                String acts = deedsBefore.stream()
                        .map(deed -> Integer.toString(deed.digit()))
                        .collect(Collectors.joining());
                put(acts + " " + words, cost + SAME_ACT_AS_BEFORE);
            }
        }

        private static String replaced(String words, Token token, String with) {
            return words.substring(0, token.at()) + " " + with + " " + words.substring(token.end());
        }

        private static @Nullable RowId row(Statement statement) {
            if (statement instanceof Statement.OnFlowers flowers) {
                return flowers.row();
            }
            if (statement instanceof Statement.OnFruit fruit) {
                return fruit.row();
            }
            if (statement instanceof Statement.Finished finished) {
                return finished.row();
            }
            return statement instanceof Statement.OnRow onRow ? onRow.row() : null;
        }
    }
}
