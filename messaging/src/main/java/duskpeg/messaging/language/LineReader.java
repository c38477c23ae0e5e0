package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.Statement.Named;
import duskpeg.core.report.Statement.NextOnStrip;
import duskpeg.core.report.Statement.TiesSaid;
import duskpeg.core.report.When;
import duskpeg.messaging.language.Item.Kind;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Reads the tokens of one line. Made for one line and thrown away. */
final class LineReader {

    private static final String CORRECTED_KEYS = "00";
    private static final String SEEN_KEYS = "99";

    /** P and L on the keypad: row and plant come apart, since it has no dot. */
    private static final String PLANT_KEYS = "75";

    private static final int MOST_SIRES = 9;

    private final Vocabulary vocabulary;
    private final FarmId farm;
    private final int tieWidth;
    private final TieList.Budget budget;
    private final List<Token> tokens;
    private final TieList ties;
    private boolean plantIsKeyed;
    private Set<Meaning> firstWord = Set.of();
    private Set<Meaning> firstTwo = Set.of();
    private List<Item> items = List.of();
    private int missing;

    /**
     * @param tokens the line's tokens, at least one
     */
    LineReader(Vocabulary vocabulary, FarmId farm, int tieWidth, TieList.Budget budget, List<Token> tokens) {
        this.vocabulary = vocabulary;
        this.farm = farm;
        this.tieWidth = tieWidth;
        this.budget = budget;
        this.tokens = tokens;
        this.ties = new TieList(tieWidth, budget);
    }

    /** A reader of the line without its first words. */
    private LineReader without(int words) {
        return new LineReader(vocabulary, farm, tieWidth, budget, tokens.subList(words, tokens.size()));
    }

    /**
     * Reads the line.
     *
     * @param text the whole text, which the tokens point into
     */
    Reading read(String text) {
        try {
            return line(text);
        } catch (Stuck stuck) {
            return stuck.in(text);
        }
    }

    private Reading line(String text) {
        lookUp();
        if (firstWord.contains(Meaning.HELP)) {
            return help();
        }
        StripReader strip = new StripReader(vocabulary, tieWidth, ties, tokens);
        if (strip.begins()) {
            return new Reading.OfStrip(strip.read());
        }
        String language = language();
        if (language != null) {
            return new Reading.Asked(new Ask.Language(language));
        }
        int corrects = corrects();
        if (corrects > 0) {
            return corrected(corrects, text);
        }
        int next = begins(Meaning.NEXT);
        if (next > 0) {
            return next(next);
        }
        if (isSeen()) {
            return new Reading.Asked(new Ask.Seen());
        }
        Reading finished = rowFirst(text);
        return finished == null ? report(text) : finished;
    }

    /** The words a line begins with decide what it is; they are looked up once. */
    private void lookUp() {
        if (tokens.get(0).is(Token.Kind.WORD)) {
            firstWord = vocabulary.of(tokens.get(0).text());
            if (tokens.size() > 1 && tokens.get(1).is(Token.Kind.WORD)) {
                firstTwo = vocabulary.of(tokens.get(0).text() + tokens.get(1).text());
            }
        }
    }

    /** What begins with its acts. */
    private Reading report(String text) {
        if (isKeys(0, PLANT_KEYS)) {
            if (tokens.size() == 1) {
                throw new Stuck(Problem.NO_ROW, tokens.get(0).end());
            }
            LineReader rest = without(1);
            rest.plantIsKeyed = true;
            return rest.afterActs(Acts.read(rest.tokens, vocabulary), text);
        }
        return afterActs(Acts.read(tokens, vocabulary), text);
    }

    private boolean isKeys(int place, String keys) {
        return place < tokens.size()
                && tokens.get(place).is(Token.Kind.NUMBER)
                && tokens.get(place).text().equals(keys);
    }

    private boolean says(int place, Meaning meaning) {
        return place < tokens.size()
                && tokens.get(place).is(Token.Kind.WORD)
                && vocabulary.of(tokens.get(place).text()).contains(meaning);
    }

    /** How many words at the start mean that: one, or two that are looked up as one; 0 if they do not. */
    private int begins(Meaning meaning) {
        if (!tokens.get(0).is(Token.Kind.WORD)) {
            return 0;
        }
        if (firstWord.contains(meaning)) {
            return 1;
        }
        return firstTwo.contains(meaning) ? 2 : 0;
    }

    /** How many words at the start say that what follows is right, or that what was said is wrong. */
    private int corrects() {
        int words = isKeys(0, CORRECTED_KEYS) ? 1 : Math.max(begins(Meaning.CORRECTED), begins(Meaning.WRONG));
        while (words > 0 && words < tokens.size() && tokens.get(words).is(Token.Kind.DASH)) {
            words++;
        }
        return words;
    }

    /**
     * A statement follows; but "wrong" and "wrong 12" only take back. Nothing is both, since what takes back has at most
     * two numbers, and a statement of two numbers has a tie.
     */
    private Reading corrected(int words, String text) {
        boolean takesBack = begins(Meaning.WRONG) > 0;
        if (words == tokens.size()) {
            if (!takesBack) {
                throw new Stuck(Problem.NO_ROW, lastToken().end());
            }
            return said(new Statement.TakeBack(null), new When.Now());
        }
        Reading right = without(words).right(text);
        if (right instanceof Reading.Said said) {
            return correction(said);
        }
        return takesBack && without(words).takenBack(text) instanceof Reading.Said back
                ? said(back.statement(), back.when())
                : right;
    }

    private Reading correction(Reading.Said right) {
        return said(new Statement.Correction(right.statement()), right.when());
    }

    /** What a correction says is right; unread if it is no work on flowers or fruit. */
    private Reading right(String text) {
        try {
            Reading right = report(text);
            if (right instanceof Reading.Said said
                    && (said.statement() instanceof Statement.OnFlowers
                            || said.statement() instanceof Statement.OnFruit
                            || said.statement() instanceof Statement.OnRow)) {
                return said;
            }
            throw new Stuck(Problem.MIXED_ACTS, tokens.get(0));
        } catch (Stuck stuck) {
            return stuck.in(text);
        }
    }

    private Reading takenBack(String text) {
        try {
            return afterActs(new Acts(EnumSet.of(Meaning.TAKEN_BACK), 0), text);
        } catch (Stuck stuck) {
            return stuck.in(text);
        }
    }

    private Reading said(Statement statement, When when) {
        return new Reading.Said(statement, when, tokens.get(0).at(), lastToken().end());
    }

    /** "ok", "99": and nothing else, since it must not hide a report. */
    private boolean isSeen() {
        int words = isKeys(0, SEEN_KEYS) ? 1 : begins(Meaning.SEEN);
        while (words > 0 && says(words, Meaning.FILLER)) {
            words++;
        }
        return words == tokens.size();
    }

    /** "next", "next row?": nothing else, since a number would be of something else. */
    private Reading next(int words) {
        for (int i = words; i < tokens.size(); i++) {
            if (tokens.get(i).is(Token.Kind.NUMBER) || tokens.get(i).is(Token.Kind.PLANT)) {
                throw new Stuck(Problem.TOO_MUCH, tokens.get(i));
            }
            if (tokens.get(i).is(Token.Kind.WORD) && !says(i, Meaning.ROW) && !says(i, Meaning.FILLER)) {
                throw new Stuck(Problem.NOT_A_NUMBER, tokens.get(i));
            }
        }
        return new Reading.Asked(new Ask.Next());
    }

    /** "row 12 is finished", "12 finished": the one report that may begin with its row. Null if it is none. */
    private @Nullable Reading rowFirst(String text) {
        int row = firstWord.contains(Meaning.ROW) ? 1 : 0;
        if (row >= tokens.size() || !tokens.get(row).isShort()) {
            return null;
        }
        int word = row + 1;
        while (says(word, Meaning.FILLER)) {
            word++;
        }
        if (!says(word, Meaning.FINISHED)) {
            return null;
        }
        Timed timed = Timed.read(tokens, word + 1, vocabulary, text);
        if (timed.start() > word + 1) {
            throw new Stuck(Problem.TOO_MUCH, tokens.get(word + 1));
        }
        return said(new Statement.Finished(new RowId(farm, Integer.toString(positive(tokens.get(row))))), timed.when());
    }

    /** Help is asked for with any words, but a report behind a greeting must not be lost. */
    private Reading help() {
        for (Token token : tokens) {
            if (token.is(Token.Kind.NUMBER) || token.is(Token.Kind.PLANT)) {
                throw new Stuck(Problem.TOO_MUCH, token);
            }
        }
        return new Reading.Asked(new Ask.Help());
    }

    /** The language that is wanted: the word for it and which, or nothing but its name. Null if none is. */
    private @Nullable String language() {
        boolean wanted = firstWord.contains(Meaning.LANGUAGE);
        StringBuilder name = new StringBuilder();
        for (Token token : tokens.subList(wanted ? 1 : 0, tokens.size())) {
            if (token.is(Token.Kind.WORD)) {
                name.append(token.text());
            } else if (!token.is(Token.Kind.DASH)) {
                if (wanted) {
                    throw new Stuck(Problem.TOO_MUCH, token);
                }
                return null;
            }
        }
        String said = name.toString();
        if (wanted) {
            return vocabulary.named(said).orElse(said.toLowerCase(Locale.ROOT));
        }
        return vocabulary.of(said).equals(Set.of(Meaning.NAME))
                ? vocabulary.named(said).orElse(null)
                : null;
    }

    private Reading afterActs(Acts acts, String text) {
        if (!acts.areOfALine()) {
            throw new Stuck(Problem.MIXED_ACTS, tokens.get(0));
        }
        if (tokens.size() == acts.end() && acts.has(Meaning.ASKED)) {
            return new Reading.Asked(new Ask.Morning());
        }
        if (tokens.size() == acts.end() + 1 && acts.has(Meaning.ASKED) && isKeys(acts.end(), "0")) {
            return new Reading.Asked(new Ask.Next());
        }
        Timed timed = Timed.read(tokens, acts.end(), vocabulary, text);
        if (timed.start() < tokens.size() && !acts.ofWork()) {
            throw new Stuck(Problem.TOO_MUCH, tokens.get(timed.start()), lastToken());
        }
        List<Token> untimed = tokens.subList(0, timed.start());
        Reasons reasons =
                acts.has(Meaning.LOST) ? Reasons.read(untimed, acts, vocabulary) : new Reasons(null, timed.start());
        List<Token> plain = untimed.subList(0, reasons.start());
        missing = plain.isEmpty()
                ? tokens.get(0).at()
                : plain.get(plain.size() - 1).end();
        List<Meaning> wanted = wanted(acts);
        items = new Items(vocabulary, tieWidth, plain, acts, wanted).collect();
        Roles roles = Roles.find(items, wanted);
        LossReason reason = acts.has(Meaning.LOST) && reasons.reason() == null ? keyedReason(roles) : reasons.reason();
        checkNumbers(acts, roles);
        nameTies(roles);
        if (acts.has(Meaning.ASKED)) {
            return new Reading.Asked(ask(roles));
        }
        return said(statement(acts, roles, reason), timed.when());
    }

    private Token lastToken() {
        return tokens.get(tokens.size() - 1);
    }

    /** A key behind row and count says why they were lost; it is taken off the items. Null if there is none. */
    private @Nullable LossReason keyedReason(Roles roles) {
        int last = items.size() - 1;
        if (last < 2 || !items.get(last).is(Kind.NUMBER) || !roles.leaves(last)) {
            return null;
        }
        LossReason reason = Reasons.ofKey(items.get(last).token());
        if (reason != null) {
            items = items.subList(0, last);
        }
        return reason;
    }

    private List<Meaning> wanted(Acts acts) {
        List<Meaning> wanted = new ArrayList<>();
        wanted.add(Meaning.ROW);
        if (plantIsKeyed) {
            wanted.add(Meaning.PLANT);
        }
        if (!acts.has(Meaning.ASKED) && !acts.has(Meaning.FINISHED)) {
            wanted.add(Meaning.COUNT);
        }
        if (acts.has(Meaning.PEGGED)) {
            wanted.add(Meaning.MALES);
        }
        return List.copyOf(wanted);
    }

    /** Numbers without a role are ties where that is certain; numbers with one must not look like ties. */
    private void checkNumbers(Acts acts, Roles roles) {
        boolean tiesSeen = false;
        int numbersSeen = 0;
        for (int i = 0; i < items.size(); i++) {
            Item item = items.get(i);
            tiesSeen |= item.is(Kind.TIES);
            if (!item.is(Kind.NUMBER)) {
                continue;
            }
            if (roles.leaves(i)) {
                if (!acts.has(Meaning.TIED)) {
                    throw new Stuck(Problem.TOO_MUCH, item.token());
                }
                if (numbersSeen < 2) {
                    throw new Stuck(Problem.UNCLEAR, item.token());
                }
            } else {
                numbersSeen++;
                boolean afterTieWord = i > 0 && items.get(i - 1).is(Kind.TIE_WORD);
                if ((tiesSeen || afterTieWord) && !isLabelled(i)) {
                    throw new Stuck(Problem.UNCLEAR, item.token());
                }
            }
        }
    }

    private boolean isLabelled(int place) {
        boolean before = place > 0 && isRoleWord(items.get(place - 1));
        boolean behind = place + 1 < items.size()
                && isRoleWord(items.get(place + 1))
                && !items.get(place + 1).is(Kind.ROW_WORD)
                && !items.get(place + 1).is(Kind.PLANT_WORD);
        return before || behind;
    }

    private static boolean isRoleWord(Item item) {
        return item.is(Kind.ROW_WORD)
                || item.is(Kind.PLANT_WORD)
                || item.is(Kind.COUNT_WORD)
                || item.is(Kind.MALES_WORD);
    }

    private void nameTies(Roles roles) {
        for (int i = 0; i < items.size(); i++) {
            Item item = items.get(i);
            if (item.isRange()) {
                ties.addRange(item.token(), item.last());
            } else if (item.is(Kind.TIES) || (item.is(Kind.NUMBER) && roles.leaves(i))) {
                ties.add(item.token());
            }
        }
    }

    private Ask ask(Roles roles) {
        RowId row = row(roles);
        List<TieNumber> named = ties.ties();
        if (named.size() + (row == null ? 0 : 1) > 1) {
            throw new Stuck(Problem.TOO_MUCH, lastNumber());
        }
        if (row != null) {
            Integer plant = plant(roles);
            return plant == null ? new Ask.OfRow(row) : new Ask.OfPlant(new PlantId(row, plant));
        }
        noPlant(roles);
        return named.isEmpty() ? new Ask.Morning() : new Ask.OfTie(named.get(0));
    }

    private Token lastNumber() {
        Token last = tokens.get(0);
        for (Item item : items) {
            if (item.is(Kind.NUMBER) || item.is(Kind.TIES)) {
                last = item.last();
            }
        }
        return last;
    }

    private Statement statement(Acts acts, Roles roles, @Nullable LossReason reason) {
        RowId row = row(roles);
        if (acts.has(Meaning.TAKEN_BACK)) {
            return takeBack(roles, row);
        }
        if (!acts.ofFlowers()) {
            noPlant(roles);
        }
        if (acts.has(Meaning.FINISHED)) {
            if (row == null) {
                throw new Stuck(Problem.NO_ROW, missing);
            }
            return new Statement.Finished(row);
        }
        int count = count(roles);
        if (acts.ofFruit()) {
            return onFruit(acts, roles, row, count);
        }
        if (row == null) {
            throw new Stuck(Problem.NO_ROW, missing);
        }
        TiesSaid said = acts.has(Meaning.TIED) ? tiesSaid(roles, count) : new NextOnStrip(null);
        if (said instanceof Named named) {
            count = named.ties().size();
        }
        return new Statement.OnFlowers(
                row, acts.deeds(), counted(count), males(roles), said, reason, plant(roles), sires());
    }

    private Statement takeBack(Roles roles, @Nullable RowId row) {
        List<TieNumber> named = ties.ties();
        if (!named.isEmpty()) {
            if (row != null) {
                throw new Stuck(Problem.TOO_MUCH, lastNumber());
            }
            noPlant(roles);
            return new Statement.TakeBackTies(named);
        }
        Integer plant = plant(roles);
        int count = count(roles);
        if (row == null) {
            noPlant(roles);
            if (count > 0) {
                throw new Stuck(Problem.NO_ROW, missing);
            }
            return new Statement.TakeBack(null);
        }
        return plant == null && count == 0
                ? new Statement.TakeBack(row)
                : new Statement.TakeBackPart(row, plant, count == 0 ? null : count);
    }

    private void noPlant(Roles roles) {
        Integer place = roles.place(Meaning.PLANT);
        if (place != null) {
            throw new Stuck(Problem.PLANT, items.get(place).token());
        }
    }

    private @Nullable Integer plant(Roles roles) {
        Integer place = roles.place(Meaning.PLANT);
        return place == null ? null : positive(items.get(place).token());
    }

    /** The plants whose males were used; null where none is named. */
    private @Nullable List<PlantId> sires() {
        List<PlantId> sires = new ArrayList<>();
        for (Item item : items) {
            if (item.is(Kind.SIRE)) {
                if (sires.size() == MOST_SIRES) {
                    throw new Stuck(Problem.TOO_MUCH, item.token());
                }
                int dot = item.token().text().indexOf('.');
                int row = positive(
                        item.token().as(Token.Kind.NUMBER, item.token().text().substring(0, dot)));
                int plant = positive(
                        item.token().as(Token.Kind.NUMBER, item.token().text().substring(dot + 1)));
                sires.add(new PlantId(new RowId(farm, Integer.toString(row)), plant));
            }
        }
        return sires.isEmpty() ? null : List.copyOf(sires);
    }

    private Statement onFruit(Acts acts, Roles roles, @Nullable RowId row, int count) {
        Deed deed = acts.deeds().iterator().next();
        List<TieNumber> named = ties.ties();
        if (!named.isEmpty()) {
            checkCount(roles, count, named);
            return new Statement.OnFruit(deed, row, named);
        }
        if (row == null) {
            throw new Stuck(Problem.NO_ROW, missing);
        }
        return new Statement.OnRow(deed, row, counted(count));
    }

    private TiesSaid tiesSaid(Roles roles, int count) {
        List<TieNumber> named = ties.ties();
        if (named.isEmpty()) {
            return new NextOnStrip(null);
        }
        if (count > 0 && named.size() == 1) {
            return new NextOnStrip(named.get(0));
        }
        checkCount(roles, count, named);
        return new Named(named);
    }

    private void checkCount(Roles roles, int count, List<TieNumber> named) {
        Integer place = roles.place(Meaning.COUNT);
        if (place != null && count != named.size()) {
            throw new Stuck(Problem.COUNT_AND_TIES_DIFFER, items.get(place).token());
        }
    }

    private int counted(int count) {
        if (count == 0) {
            throw new Stuck(Problem.NO_COUNT, missing);
        }
        return count;
    }

    private @Nullable RowId row(Roles roles) {
        Integer place = roles.place(Meaning.ROW);
        return place == null
                ? null
                : new RowId(farm, Integer.toString(positive(items.get(place).token())));
    }

    /** The count said, or 0. */
    private int count(Roles roles) {
        Integer place = roles.place(Meaning.COUNT);
        return place == null ? 0 : positive(items.get(place).token());
    }

    private @Nullable Integer males(Roles roles) {
        Integer place = roles.place(Meaning.MALES);
        return place == null ? null : Integer.valueOf(items.get(place).token().text());
    }

    private static int positive(Token number) {
        int value = Integer.parseInt(number.text());
        if (value == 0) {
            throw new Stuck(Problem.ZERO, number);
        }
        return value;
    }
}
