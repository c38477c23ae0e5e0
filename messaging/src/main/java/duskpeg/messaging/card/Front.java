package duskpeg.messaging.card;

import duskpeg.messaging.card.Sheet.Align;
import duskpeg.messaging.card.Sheet.Weight;
import duskpeg.messaging.language.Meaning;
import java.io.IOException;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** The front of the card: the farm's number, the ten keys, the shape of a line, and how it is keyed in a call. */
final class Front {

    private static final float LEFT = Sheet.MARGIN;
    private static final float WIDE = Sheet.WIDTH - 2 * Sheet.MARGIN;
    private static final float BOTTOM = Sheet.HEIGHT - Sheet.MARGIN;
    private static final float GAP = 4;

    private static final float HEAD = 28;
    private static final float KEY_WIDE = (WIDE - 2 * GAP) / 3;
    private static final float KEY_HIGH = 46;
    private static final float CELL_HIGH = 19;
    private static final float LINE_HIGH = 33;

    /** Keys as they lie on a phone. */
    private static final List<Key> KEYS = List.of(
            new Key("1", Picture.PEGGED, Meaning.PEGGED),
            new Key("2", Picture.OPENED, Meaning.OPENED),
            new Key("3", Picture.POLLINATED, Meaning.POLLINATED),
            new Key("4", Picture.BAGGED, Meaning.BAGGED),
            new Key("5", Picture.TIED, Meaning.TIED),
            new Key("6", Picture.CULLED, Meaning.CULLED),
            new Key("7", Picture.HARVESTED, Meaning.HARVESTED),
            new Key("8", Picture.LOST, Meaning.LOST),
            new Key("9", Picture.ASKED, Meaning.ASKED),
            new Key("*", Picture.SPACE, null),
            new Key("0", Picture.TAKEN_BACK, Meaning.TAKEN_BACK),
            new Key("#", Picture.END, null));

    /** The columns of a line, right of its pictures: the keys, the row, the count, males or a tie. */
    private static final Column ACT = new Column(64, 42);

    private static final Column ROW = new Column(110, 46);
    private static final Column COUNT = new Column(160, 46);
    private static final Column MORE = new Column(210, WIDE - 210);

    private final Sheet sheet;
    private final Words words;
    private final Lesson lesson;

    private Front(Sheet sheet, Words words, Lesson lesson) {
        this.sheet = sheet;
        this.words = words;
        this.lesson = lesson;
    }

    /**
     * A key.
     *
     * @param meaning what it stands for in a text; null for a sign that is only keyed in a call
     */
    private record Key(
            String sign, Picture picture, @Nullable Meaning meaning) {}

    private record Column(float left, float wide) {
        float x() {
            return LEFT + left;
        }
    }

    static void print(Sheet sheet, Words words, Lesson lesson) throws IOException {
        Front front = new Front(sheet, words, lesson);
        float y = Sheet.MARGIN;
        front.head(y);
        y += HEAD + GAP;
        for (int i = 0; i < KEYS.size(); i++) {
            int row = i / 3;
            front.key(KEYS.get(i), LEFT + i % 3 * (KEY_WIDE + GAP), y + row * (KEY_HIGH + 3));
        }
        y += 4 * (KEY_HIGH + 3) + 1;
        front.columns(y);
        y += 31;
        front.line(lesson.pegged(), y, Picture.MALES, Picture.PEGGED);
        y += LINE_HIGH;
        front.line(lesson.visited(), y, null, Picture.OPENED, Picture.POLLINATED, Picture.BAGGED, Picture.TIED);
        y += LINE_HIGH;
        front.line(lesson.tiedUpTo(), y, Picture.TIE, Picture.TIED);
        front.call(BOTTOM - CELL_HIGH - 2);
    }

    private void head(float y) throws IOException {
        float name = WIDE * 0.42f;
        sheet.text(words.say("language.name"), LEFT, y + 12, name - GAP, 13, Weight.BOLD, Align.LEFT);
        sheet.text(words.say("card.title"), LEFT, y + 23, name - GAP, 8.5f, Weight.PLAIN, Align.LEFT);
        sheet.box(LEFT + name, y, WIDE - name, HEAD, 0.8f);
        sheet.picture(Picture.PHONE, LEFT + name + 2, y + 3, HEAD - 6);
        sheet.blank(LEFT + name + HEAD, y + HEAD - 7, WIDE - name - HEAD - 6);
    }

    private void key(Key key, float x, float y) throws IOException {
        sheet.box(x, y, KEY_WIDE, KEY_HIGH, 1);
        sheet.block(x + 3, y + 3, 19, 19);
        sheet.text(key.sign, x + 3, y + 18, 19, 15, Weight.REVERSED, Align.CENTRE);
        if (key.meaning == null) {
            sheet.picture(Picture.CALL, x + 28, y + 11, 24);
            sheet.picture(key.picture, x + 56, y + 12, 24);
        } else {
            sheet.picture(key.picture, x + (KEY_WIDE - 30) / 2 + 8, y + 2.5f, 30);
            sheet.text(words.first(key.meaning), x + 3, y + KEY_HIGH - 4, KEY_WIDE - 6, 10, Weight.BOLD, Align.CENTRE);
        }
    }

    private void columns(float y) throws IOException {
        over(ROW, y, Picture.ROW, words.first(Meaning.ROW));
        over(COUNT, y, Picture.FEMALES, words.say("card.count"));
    }

    private void over(Column column, float y, Picture picture, String word) throws IOException {
        sheet.picture(picture, column.x() + (column.wide - 19) / 2, y, 19);
        sheet.text(word, column.x(), y + 28, column.wide, 8, Weight.BOLD, Align.CENTRE);
    }

    private void line(Example example, float y, @Nullable Picture more, Picture... acts) throws IOException {
        String[] parts = example.keys().split(" ", -1);
        for (int i = 0; i < acts.length; i++) {
            sheet.picture(acts[i], ACT.x() - (acts.length - i) * 15.5f - 1.5f, y + 2, 15);
        }
        cell(parts[0], ACT.x(), y, ACT.wide);
        cell(parts[1], ROW.x(), y, ROW.wide);
        cell(parts[2], COUNT.x(), y, COUNT.wide);
        if (more != null) {
            sheet.box(MORE.x(), y, MORE.wide, CELL_HIGH, 0.8f);
            sheet.picture(more, MORE.x() + 3, y + 2, 15);
            sheet.text(parts[3], MORE.x() + 19, y + 14, MORE.wide - 21, 13, Weight.BOLD, Align.CENTRE);
        }
        float wide = LEFT + WIDE - ACT.x() - 2;
        sheet.text(example.words(), ACT.x() + 2, y + CELL_HIGH + 9, wide, 8, Weight.PLAIN, Align.LEFT);
    }

    private void cell(String number, float x, float y, float wide) throws IOException {
        sheet.box(x, y, wide, CELL_HIGH, 0.8f);
        sheet.text(number, x + 2, y + 14, wide - 4, 13, Weight.BOLD, Align.CENTRE);
    }

    /** The same line keyed in a call. */
    private void call(float y) throws IOException {
        sheet.picture(Picture.CALL, ACT.x() - 28, y - 1, 21);
        float x = ACT.x();
        for (String part : lesson.called().keys().split("(?=[*#])|(?<=[*#])", -1)) {
            if (part.matches("[*#]")) {
                sheet.block(x, y + 1, 17, 17);
                sheet.text(part, x, y + 15, 17, 13, Weight.REVERSED, Align.CENTRE);
                x += 17 + 3;
            } else if (!part.isEmpty()) {
                cell(part, x, y, 28);
                x += 28 + 3;
            }
        }
    }
}
