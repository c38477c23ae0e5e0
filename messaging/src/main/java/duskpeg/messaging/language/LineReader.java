package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.Statement.Named;
import duskpeg.core.report.Statement.NextOnStrip;
import duskpeg.core.report.Statement.TiesSaid;
import duskpeg.messaging.language.Item.Kind;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Reads the tokens of one line. Made for one line and thrown away. */
final class LineReader {

    private final Vocabulary vocabulary;
    private final FarmId farm;
    private final int tieWidth;
    private final List<Token> tokens;
    private final int start;
    private final int end;
    private final TieList ties;
    private List<Item> items = List.of();

    /**
     * @param tokens the line's tokens, at least one
     */
    LineReader(Vocabulary vocabulary, FarmId farm, int tieWidth, TieList.Budget budget, List<Token> tokens) {
        this.vocabulary = vocabulary;
        this.farm = farm;
        this.tieWidth = tieWidth;
        this.tokens = tokens;
        this.start = tokens.get(0).at();
        this.end = tokens.get(tokens.size() - 1).end();
        this.ties = new TieList(tieWidth, budget);
    }

    /**
     * Reads the line.
     *
     * @param text the whole text, which the tokens point into
     */
    Reading read(String text) {
        try {
            return isHelp() ? help() : afterActs(Acts.read(tokens, vocabulary));
        } catch (Stuck stuck) {
            return stuck.in(text);
        }
    }

    private boolean isHelp() {
        Token first = tokens.get(0);
        return first.is(Token.Kind.WORD) && vocabulary.of(first.text()).contains(Meaning.HELP);
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

    private Reading afterActs(Acts acts) {
        if (tokens.size() == acts.end() && acts.has(Meaning.ASKED)) {
            return new Reading.Asked(new Ask.Morning());
        }
        List<Meaning> wanted = wanted(acts);
        items = new Items(vocabulary, tieWidth, tokens, acts, wanted).collect();
        Roles roles = Roles.find(items, wanted);
        checkNumbers(acts, roles);
        nameTies(roles);
        if (acts.has(Meaning.ASKED)) {
            return new Reading.Asked(ask(roles));
        }
        return new Reading.Said(statement(acts, roles), start, end);
    }

    private static List<Meaning> wanted(Acts acts) {
        if (acts.has(Meaning.ASKED) || acts.has(Meaning.TAKEN_BACK)) {
            return List.of(Meaning.ROW);
        }
        return acts.has(Meaning.PEGGED)
                ? List.of(Meaning.ROW, Meaning.COUNT, Meaning.MALES)
                : List.of(Meaning.ROW, Meaning.COUNT);
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
                && !items.get(place + 1).is(Kind.ROW_WORD);
        return before || behind;
    }

    private static boolean isRoleWord(Item item) {
        return item.is(Kind.ROW_WORD) || item.is(Kind.COUNT_WORD) || item.is(Kind.MALES_WORD);
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
            return new Ask.OfRow(row);
        }
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

    private Statement statement(Acts acts, Roles roles) {
        RowId row = row(roles);
        if (acts.has(Meaning.TAKEN_BACK)) {
            return new Statement.TakeBack(row);
        }
        int count = count(roles);
        if (acts.ofFruit()) {
            return onFruit(acts, roles, row, count);
        }
        if (row == null) {
            throw new Stuck(Problem.NO_ROW, end);
        }
        TiesSaid said = acts.has(Meaning.TIED) ? tiesSaid(roles, count) : new NextOnStrip(null);
        if (said instanceof Named named) {
            count = named.ties().size();
        }
        return new Statement.OnFlowers(row, acts.deeds(), counted(count), males(roles), said);
    }

    private Statement onFruit(Acts acts, Roles roles, @Nullable RowId row, int count) {
        Deed deed = acts.has(Meaning.CULLED) ? Deed.CULLED : Deed.HARVESTED;
        List<TieNumber> named = ties.ties();
        if (!named.isEmpty()) {
            checkCount(roles, count, named);
            return new Statement.OnFruit(deed, row, named);
        }
        if (row == null) {
            throw new Stuck(Problem.NO_ROW, end);
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
            throw new Stuck(Problem.NO_COUNT, end);
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
