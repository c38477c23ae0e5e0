package duskpeg.messaging.card;

import duskpeg.core.act.LossReason;
import duskpeg.messaging.card.Sheet.Align;
import duskpeg.messaging.card.Sheet.Weight;
import java.io.IOException;
import java.util.List;
import java.util.Map;

/** The back of the card: why flowers were lost, the other lines there are, other languages, and the cautions. */
final class Back {

    private static final float LEFT = Sheet.MARGIN;
    private static final float WIDE = Sheet.WIDTH - 2 * Sheet.MARGIN;
    private static final float BOTTOM = Sheet.HEIGHT - Sheet.MARGIN;
    private static final float GAP = 3;

    private static final float REASON_HIGH = 60;
    private static final float HALF = (WIDE - GAP) / 2;
    private static final float TILE_HIGHEST = 28;
    private static final float ICON = 18;
    private static final float CAUTION_HIGH = 30;
    private static final float LANGUAGE_HIGH = 21;
    private static final int LANGUAGES_A_LINE = 5;

    private static final List<Caution> CAUTIONS = List.of(
            new Caution(Picture.LOOK_INSIDE, "card.look-inside"),
            new Caution(Picture.NOT_IN_MOUTH, "card.not-in-mouth"),
            new Caution(Picture.CUT_AWAY, "card.cut-away"),
            new Caution(Picture.HEAT, "card.heat"),
            new Caution(Picture.SPRAY, "card.spray"),
            new Caution(Picture.STING, "card.allergic"));

    private final Sheet sheet;
    private final Words words;
    private final Lesson lesson;

    private Back(Sheet sheet, Words words, Lesson lesson) {
        this.sheet = sheet;
        this.words = words;
        this.lesson = lesson;
    }

    private record Caution(Picture picture, String phrase) {}

    private record Tile(Example example, List<Picture> pictures) {
        Tile(Example example, Picture... pictures) {
            this(example, List.of(pictures));
        }
    }

    /**
     * @param others what the other languages call themselves, by their codes
     * @throws IOException if something has no room
     */
    static void print(Sheet sheet, Words words, Lesson lesson, Map<String, String> others) throws IOException {
        Back back = new Back(sheet, words, lesson);
        float top = Sheet.MARGIN;
        back.reasons(top);
        int pairs = (CAUTIONS.size() + 1) / 2;
        float cautions = BOTTOM - pairs * CAUTION_HIGH - 2;
        back.cautions(cautions);
        int lines = (others.size() + LANGUAGES_A_LINE - 1) / LANGUAGES_A_LINE;
        float languages = cautions - GAP - lines * LANGUAGE_HIGH;
        back.languages(others, languages);
        back.tiles(top + REASON_HIGH + GAP, languages - GAP);
    }

    private void reasons(float y) throws IOException {
        LossReason[] reasons = LossReason.values();
        float wide = (WIDE - (reasons.length - 1) * GAP) / reasons.length;
        for (int i = 0; i < reasons.length; i++) {
            float x = LEFT + i * (wide + GAP);
            sheet.box(x, y, wide, REASON_HIGH, 1);
            sheet.text(lesson.lost(reasons[i]).keys(), x, y + 13, wide, 12, Weight.BOLD, Align.CENTRE);
            sheet.picture(picture(reasons[i]), x + (wide - 30) / 2, y + 17, 30);
            sheet.text(
                    words.say("reason." + reasons[i].word()), x + 2, y + 56, wide - 4, 8, Weight.PLAIN, Align.CENTRE);
        }
    }

    private static Picture picture(LossReason reason) {
        return switch (reason) {
            case FOUND_OPEN -> Picture.FOUND_OPEN;
            case TORN -> Picture.TORN;
            case PEG_OFF -> Picture.PEG_OFF;
            case NO_POLLEN -> Picture.NO_POLLEN;
        };
    }

    private List<Tile> tiles() {
        return List.of(
                new Tile(lesson.at(), Picture.CLOCK),
                new Tile(lesson.ago(), Picture.CLOCK),
                new Tile(lesson.yesterday(), Picture.DAY_BEFORE),
                new Tile(lesson.tiedNamed(), Picture.TIED),
                new Tile(lesson.harvested(), Picture.HARVESTED),
                new Tile(lesson.harvestedRange(), Picture.HARVESTED),
                new Tile(lesson.asked(), Picture.ASKED),
                new Tile(lesson.askedOfRow(), Picture.ASKED, Picture.ROW),
                new Tile(lesson.askedOfTie(), Picture.ASKED, Picture.TIE),
                new Tile(lesson.takenBack(), Picture.TAKEN_BACK),
                new Tile(lesson.takenBackOfRow(), Picture.TAKEN_BACK, Picture.ROW),
                new Tile(lesson.help(), Picture.PHONE));
    }

    private void tiles(float y, float bottom) throws IOException {
        List<Tile> tiles = tiles();
        int rows = (tiles.size() + 1) / 2;
        float high = Math.min(TILE_HIGHEST, (bottom - y) / rows);
        for (int i = 0; i < tiles.size(); i++) {
            int row = i / 2;
            tile(tiles.get(i), LEFT + i % 2 * (HALF + GAP), y + row * high, high - GAP + 1);
        }
    }

    private void tile(Tile tile, float x, float y, float high) throws IOException {
        sheet.box(x, y, HALF, high, 0.6f);
        float at = x + 3;
        for (Picture picture : tile.pictures) {
            sheet.picture(picture, at, y + (high - ICON) / 2, ICON);
            at += ICON + 2;
        }
        float wide = x + HALF - 2 - at - 2;
        Example example = tile.example;
        if (example.keys().equals(example.words())) {
            sheet.text(example.keys(), at + 2, y + high / 2 + 3.5f, wide, 10.5f, Weight.BOLD, Align.LEFT);
        } else {
            sheet.text(example.keys(), at + 2, y + high / 2 - 0.5f, wide, 10.5f, Weight.BOLD, Align.LEFT);
            sheet.text(example.words(), at + 2, y + high / 2 + 8, wide, 7.5f, Weight.PLAIN, Align.LEFT);
        }
    }

    private void languages(Map<String, String> others, float y) throws IOException {
        sheet.picture(Picture.LANGUAGE, LEFT + 1, y, ICON);
        float x = LEFT + ICON + 6;
        float wide = (LEFT + WIDE - x) / Math.max(1, Math.min(LANGUAGES_A_LINE, others.size()));
        int i = 0;
        for (Map.Entry<String, String> other : others.entrySet()) {
            int row = i / LANGUAGES_A_LINE;
            float left = x + i % LANGUAGES_A_LINE * wide;
            float line = y + row * LANGUAGE_HIGH;
            sheet.text(
                    lesson.language(other.getKey()).keys(), left, line + 8.5f, wide - 3, 9.5f, Weight.BOLD, Align.LEFT);
            sheet.text(other.getValue(), left, line + 17.5f, wide - 3, 8, Weight.PLAIN, Align.LEFT);
            i++;
        }
    }

    private void cautions(float y) throws IOException {
        sheet.box(LEFT, y, WIDE, BOTTOM - y, 1.8f);
        for (int i = 0; i < CAUTIONS.size(); i++) {
            Caution caution = CAUTIONS.get(i);
            int row = i / 2;
            float x = LEFT + 3 + i % 2 * (WIDE - 4) / 2;
            float top = y + 1 + row * CAUTION_HIGH;
            sheet.picture(caution.picture, x, top + 2, CAUTION_HIGH - 4);
            sheet.paragraph(words.say(caution.phrase), x + 30, top, (WIDE - 4) / 2 - 34, CAUTION_HIGH, 8);
        }
    }
}
