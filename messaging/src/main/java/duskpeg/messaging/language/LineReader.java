package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.Statement.Named;
import duskpeg.core.report.Statement.NextOnStrip;
import duskpeg.core.report.Statement.TiesSaid;
import duskpeg.messaging.language.Item.Kind;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Reads the tokens of one line. Made for one line and thrown away. */
final class LineReader {

    private final Vocabulary vocabulary;
    private final FarmId farm;
    private final int tieWidth;
    private final List<Token> tokens;
    private final TieList ties;
    private List<Item> items = List.of();
    private int missing;

    /**
     * @param tokens the line's tokens, at least one
     */
    LineReader(Vocabulary vocabulary, FarmId farm, int tieWidth, TieList.Budget budget, List<Token> tokens) {
        this.vocabulary = vocabulary;
        this.farm = farm;
        this.tieWidth = tieWidth;
        this.tokens = tokens;
        this.ties = new TieList(tieWidth, budget);
    }

    /**
     * Reads the line.
     *
     * @param text the whole text, which the tokens point into
     */
    Reading read(String text) {
        try {
            if (isHelp()) {
                return help();
            }
            StripReader strip = new StripReader(vocabulary, tieWidth, ties, tokens);
            if (strip.begins()) {
                return new Reading.OfStrip(strip.read());
            }
            String language = language();
            return language == null
                    ? afterActs(Acts.read(tokens, vocabulary), text)
                    : new Reading.Asked(new Ask.Language(language));
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

    /** The language that is wanted: the word for it and which, or nothing but its name. Null if none is. */
    private @Nullable String language() {
        Token first = tokens.get(0);
        boolean wanted =
                first.is(Token.Kind.WORD) && vocabulary.of(first.text()).contains(Meaning.LANGUAGE);
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
        if (tokens.size() == acts.end() && acts.has(Meaning.ASKED)) {
            return new Reading.Asked(new Ask.Morning());
        }
        Timed timed = Timed.read(tokens, acts.end(), vocabulary, text);
        if (timed.start() < tokens.size() && !acts.ofWork()) {
            throw new Stuck(Problem.TOO_MUCH, tokens.get(timed.start()), lastToken());
        }
        List<Token> untimed = tokens.subList(0, timed.start());
        Reasons reasons =
                acts.has(Meaning.LOST) ? Reasons.read(untimed, acts, vocabulary) : new Reasons(null, timed.start());
        List<Token> plain = untimed.subList(0, reasons.start());
        missing = plain.get(plain.size() - 1).end();
        List<Meaning> wanted = wanted(acts);
        items = new Items(vocabulary, tieWidth, plain, acts, wanted).collect();
        Roles roles = Roles.find(items, wanted);
        LossReason reason = acts.has(Meaning.LOST) && reasons.reason() == null ? keyedReason(roles) : reasons.reason();
        checkNumbers(acts, roles);
        nameTies(roles);
        if (acts.has(Meaning.ASKED)) {
            return new Reading.Asked(ask(roles));
        }
        return new Reading.Said(
                statement(acts, roles, reason),
                timed.when(),
                tokens.get(0).at(),
                lastToken().end());
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

    private Statement statement(Acts acts, Roles roles, @Nullable LossReason reason) {
        RowId row = row(roles);
        if (acts.has(Meaning.TAKEN_BACK)) {
            return new Statement.TakeBack(row);
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
        return new Statement.OnFlowers(row, acts.deeds(), counted(count), males(roles), said, reason);
    }

    private Statement onFruit(Acts acts, Roles roles, @Nullable RowId row, int count) {
        Deed deed = acts.has(Meaning.CULLED) ? Deed.CULLED : Deed.HARVESTED;
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
