package duskpeg.messaging.language;

import duskpeg.core.fruit.TieNumber;
import duskpeg.messaging.language.Item.Kind;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Makes items of the tokens behind the acts. Made for one line and thrown away. */
final class Items {

    private final Vocabulary vocabulary;
    private final int tieWidth;
    private final List<Token> tokens;
    private final Acts acts;
    private final List<Meaning> wanted;
    private final List<Item> items = new ArrayList<>();
    private @Nullable Token to;
    private @Nullable Token from;
    private int numbers;
    private boolean rowSaid;
    private boolean plantSaid;

    /**
     * @param tokens the whole line
     * @param acts what it begins with
     * @param wanted the roles its numbers can have
     */
    Items(Vocabulary vocabulary, int tieWidth, List<Token> tokens, Acts acts, List<Meaning> wanted) {
        this.vocabulary = vocabulary;
        this.tieWidth = tieWidth;
        this.tokens = tokens;
        this.acts = acts;
        this.wanted = wanted;
    }

    List<Item> collect() {
        for (int i = acts.end(); i < tokens.size(); i++) {
            Token token = tokens.get(i);
            switch (token.kind()) {
                case PLANT -> plant(token);
                case DASH -> dash(i);
                case NUMBER -> number(token);
                case WORD -> word(token);
            }
        }
        endRange();
        Item last = last();
        if (last != null && last.is(Kind.ROW_WORD)) {
            throw new Stuck(Problem.NO_ROW, last.token());
        }
        if (last != null && last.is(Kind.PLANT_WORD)) {
            throw new Stuck(Problem.PLANT, last.token());
        }
        if (from != null && items.stream().noneMatch(item -> item.is(Kind.SIRE))) {
            throw new Stuck(Problem.NOT_A_NUMBER, from);
        }
        return List.copyOf(items);
    }

    /**
     * {@code 12.7} is row 12, plant 7, where the row is due: first of the numbers, or behind its word. Elsewhere it is a
     * plant whose males were used.
     */
    private void plant(Token token) {
        endRange();
        Item last = last();
        boolean behindItsWord = last != null && last.is(Kind.ROW_WORD);
        int dot = token.text().indexOf('.');
        String row = token.text().substring(0, Math.max(0, dot));
        String plant = token.text().substring(dot + 1);
        if (dot < 0 || row.length() >= TieNumber.MIN_WIDTH || plant.length() >= TieNumber.MIN_WIDTH) {
            throw new Stuck(Problem.PLANT, token);
        }
        if (from == null && (behindItsWord || items.stream().noneMatch(Items::isNumber))) {
            if (!behindItsWord) {
                add(new Item(Kind.ROW_WORD, token));
            }
            add(new Item(Kind.NUMBER, token.as(Token.Kind.NUMBER, row)));
            plantWord(token);
            add(new Item(Kind.NUMBER, token.as(Token.Kind.NUMBER, plant)));
            numbers++;
        } else if (acts.takeSires()) {
            add(new Item(Kind.SIRE, token));
        } else {
            throw new Stuck(Problem.TOO_MUCH, token);
        }
    }

    private static boolean isNumber(Item item) {
        return item.is(Kind.NUMBER) || item.is(Kind.TIES);
    }

    private void plantWord(Token token) {
        if (plantSaid) {
            throw new Stuck(Problem.TOO_MUCH, token);
        }
        plantSaid = true;
        add(new Item(Kind.PLANT_WORD, token));
    }

    /** A dash behind a number makes a range; elsewhere it parts words. */
    private void dash(int place) {
        Token before = tokens.get(place - 1);
        if (!before.is(Token.Kind.NUMBER)) {
            return;
        }
        if (place > acts.end()) {
            to = tokens.get(place);
        } else if (place + 1 < tokens.size() && tokens.get(place + 1).is(Token.Kind.NUMBER)) {
            // "2-5 12": acts 2 to 5, or act 2 in row 5?
            throw new Stuck(Problem.BAD_RANGE, before, tokens.get(place + 1));
        }
    }

    private void number(Token token) {
        if (token.text().length() > tieWidth) {
            throw new Stuck(Problem.TOO_LONG, token);
        }
        if (to != null) {
            range(token);
        } else if (token.isShort()) {
            add(new Item(Kind.NUMBER, token));
            numbers++;
        } else {
            checkTie(token);
            add(new Item(Kind.TIES, token));
        }
    }

    private void range(Token last) {
        to = null;
        Item first = items.remove(items.size() - 1);
        while (first.is(Kind.TIE_WORD)) {
            first = items.remove(items.size() - 1);
        }
        if (!first.is(Kind.TIES) || first.isRange() || last.isShort()) {
            throw new Stuck(Problem.BAD_RANGE, first.token(), last);
        }
        add(new Item(Kind.TIES, first.token(), last));
    }

    private void checkTie(Token token) {
        if (!acts.takeTies()) {
            throw new Stuck(numbers < wanted.size() ? Problem.TOO_LONG : Problem.TOO_MUCH, token);
        }
    }

    private void word(Token token) {
        Set<Meaning> meanings = vocabulary.of(token.text());
        if (meanings.contains(Meaning.TIE) && (acts.takeTies() || meanings.size() == 1)) {
            add(new Item(Kind.TIE_WORD, token));
        } else if (meanings.contains(Meaning.PLANT)) {
            endRange();
            plantWord(token);
        } else if (meanings.contains(Meaning.FROM)) {
            from(token);
        } else if (meanings.contains(Meaning.ROW)) {
            role(Kind.ROW_WORD, token);
        } else if (meanings.contains(Meaning.COUNT)) {
            role(Kind.COUNT_WORD, token);
        } else if (meanings.contains(Meaning.MALES)) {
            role(Kind.MALES_WORD, token);
        } else if (meanings.contains(Meaning.TO) && lastIsNumber()) {
            to = token;
        } else if (meanings.stream().anyMatch(Meaning::isOfTime)) {
            throw new Stuck(Problem.BAD_TIME, token);
        } else if (meanings.stream().anyMatch(Meaning::isAct)) {
            throw new Stuck(Problem.MIXED_ACTS, token);
        } else if (!meanings.contains(Meaning.FILLER) && !meanings.contains(Meaning.AND)) {
            throw new Stuck(Problem.NOT_A_NUMBER, token);
        }
    }

    private void from(Token token) {
        endRange();
        if (!acts.takeSires()) {
            throw new Stuck(Problem.TOO_MUCH, token);
        }
        from = token;
    }

    private void role(Kind kind, Token token) {
        endRange();
        Item last = last();
        if (kind == Kind.ROW_WORD && token.glued() && lastIsNumber()) {
            // "12r 14": elsewhere the row comes behind its word.
            throw new Stuck(Problem.UNCLEAR, token);
        }
        if (kind != Kind.ROW_WORD && !wanted.contains(kind == Kind.COUNT_WORD ? Meaning.COUNT : Meaning.MALES)) {
            throw new Stuck(Problem.TOO_MUCH, token);
        }
        boolean again = last != null && last.is(kind);
        boolean maleFlowers = kind == Kind.COUNT_WORD && last != null && last.is(Kind.MALES_WORD);
        if (!again && !maleFlowers) {
            add(new Item(kind, token));
        }
    }

    /** A word that makes a range needs a number behind it; a dash does not. */
    private void endRange() {
        if (to != null && to.is(Token.Kind.WORD)) {
            throw new Stuck(Problem.NOT_A_NUMBER, to);
        }
        to = null;
    }

    private @Nullable Item last() {
        return items.isEmpty() ? null : items.get(items.size() - 1);
    }

    private boolean lastIsNumber() {
        Item last = last();
        return last != null && isNumber(last);
    }

    private void add(Item item) {
        Item last = last();
        if (last != null && last.is(Kind.ROW_WORD)) {
            if (!item.is(Kind.NUMBER)) {
                throw new Stuck(Problem.NO_ROW, last.token());
            }
            if (rowSaid) {
                throw new Stuck(Problem.TOO_MUCH, item.token());
            }
            rowSaid = true;
        }
        if (last != null && last.is(Kind.PLANT_WORD) && !item.is(Kind.NUMBER)) {
            throw new Stuck(Problem.PLANT, last.token());
        }
        items.add(item);
    }
}
