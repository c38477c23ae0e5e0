package duskpeg.messaging.card;

import static duskpeg.messaging.card.Drawing.Ink.LINE;
import static duskpeg.messaging.card.Drawing.Ink.PAPER;
import static duskpeg.messaging.card.Drawing.Ink.SHADE;
import static duskpeg.messaging.card.Drawing.Ink.SOLID;
import static duskpeg.messaging.card.Drawing.Ink.THICK;

import java.util.List;

/** The pictures of the card. A female flower has a small fruit below it, a male has none. */
enum Picture {
    // The keys.
    PEGGED(Part.bud().add(Part.peg(), 0, 0, 1)),
    OPENED(Part.female()),
    POLLINATED(new Drawing()
            .add(Part.female(), 34, 32, 0.66)
            .add(Part.anther(SOLID), -4, -8, 0.66, 130)
            .circle(SOLID, 54, 44, 2.6)
            .circle(SOLID, 63, 40, 2.6)
            .circle(SOLID, 62, 50, 2.6)
            .circle(SOLID, 70, 46, 2.6)
            .path(THICK, "M 54 10 C 70 6 84 12 87 22")
            .path(SOLID, "M 76 20 L 97 17 L 90 34 Z")),
    BAGGED(new Drawing()
            .path(LINE, "M 50 92 L 50 99")
            .circle(PAPER, 50, 83, 12)
            .path(SHADE, "M 22 12 C 38 3 62 3 78 12 L 84 56 C 76 66 62 68 59 74 L 41 74 C 38 68 24 66 16 56 Z")
            .path(LINE, "M 50 58 C 32 50 32 30 50 18 C 68 30 68 50 50 58 Z")
            .path(THICK, "M 39 73 L 61 73")
            .path(LINE, "M 61 73 L 74 80 M 61 73 L 76 70")),
    TIED(new Drawing()
            .path(THICK, "M 46 2 C 46 14 48 24 50 40")
            .add(Part.fruit(), 17, 34, 0.66)
            .path(THICK, "M 28 22 C 28 8 66 8 66 22 C 66 36 28 36 28 22 Z")
            .path(THICK, "M 66 20 L 72 16")
            .path(PAPER, "M 70 3 L 98 3 L 98 24 L 70 24 Z")
            .path(LINE, "M 77 8 L 77 19 M 84 8 L 84 19 M 91 8 L 91 19")),
    CULLED(new Drawing()
            .path(THICK, "M 62 2 L 62 14")
            .path(THICK, "M 60 38 L 58 50")
            .add(Part.fruit(), 30, 44, 0.56)
            .add(Part.scissors(), 2, 0, 0.76)),
    HARVESTED(new Drawing()
            .add(Part.fruit(), 8, 6, 0.42)
            .add(Part.fruit(), 50, 6, 0.42)
            .add(Part.fruit(), 29, 18, 0.42)
            .path(PAPER, "M 6 50 L 94 50 L 86 94 L 14 94 Z")
            .path(LINE, "M 9 65 L 91 65 M 12 80 L 88 80")
            .path(LINE, "M 33 50 L 36 94 M 67 50 L 64 94")),
    LOST(new Drawing()
            .path(THICK, "M 22 98 L 26 46 L 40 30")
            .add(Part.blossom(), 22, -4, 0.72, 112)
            .path(SOLID, "M 19 50 L 33 40 L 31 58 Z")
            .add(Part.cross(), 54, 58, 0.4)),
    ASKED(new Drawing()
            .path(THICK, "M 28 32 C 28 2 74 2 74 32 C 74 52 51 50 51 70")
            .path(THICK, "M 30 32 C 30 5 72 5 72 32 C 72 50 49 50 49 70")
            .circle(SOLID, 50, 90, 7)),
    TAKEN_BACK(new Drawing()
            .path(THICK, "M 30 34 L 62 34 C 96 34 96 84 62 84 L 30 84")
            .path(SOLID, "M 36 12 L 36 56 L 6 34 Z")),

    // What a number is of.
    ROW(new Drawing()
            .path(THICK, "M 3 84 L 97 84")
            .add(Part.plant(), -6, 30, 0.54)
            .add(Part.plant(), 23, 30, 0.54)
            .add(Part.plant(), 52, 30, 0.54)),
    FEMALES(new Drawing()
            .add(Part.female(), 22, 4, 0.5)
            .add(Part.female(), 0, 48, 0.5)
            .add(Part.female(), 48, 48, 0.5)),
    MALES(new Drawing().add(Part.male(), -3, 4, 0.64).add(Part.male(), 39, 32, 0.64)),
    TIE(new Drawing()
            .circle(THICK, 32, 66, 26)
            .path(SOLID, "M 46 36 L 60 50 L 50 60 L 36 46 Z")
            .path(THICK, "M 54 46 L 66 32")
            .path(PAPER, "M 42 6 L 98 6 L 98 34 L 42 34 Z")
            .path(LINE, "M 54 13 L 54 27 M 65 13 L 65 27 M 76 13 L 76 27 M 87 13 L 87 27")),

    // Why a flower was lost.
    FOUND_OPEN(new Drawing().add(Part.female(), 0, 24, 0.76).add(Part.bee(), 50, -4, 0.52)),
    TORN(new Drawing()
            .path(LINE, "M 50 92 L 50 99")
            .path(
                    PAPER,
                    "M 50 72 C 36 66 22 52 6 26 C 16 26 24 29 31 34 C 25 24 25 14 26 4"
                            + " C 38 10 46 19 50 30 L 58 24 L 55 38 L 66 34 L 60 48 L 71 46 L 64 60 L 58 68 Z")
            .path(LINE, "M 31 34 C 36 46 42 56 48 62")
            .circle(PAPER, 50, 82, 12)
            .path(PAPER, "M 96 54 C 98 66 92 78 80 86 L 78 76 L 70 78 L 76 66 L 70 60 C 80 62 90 60 96 54 Z")),
    PEG_OFF(new Drawing().add(Part.bud(), -22, 0, 1).add(Part.peg(), 26, 44, 0.74, 65)),
    NO_POLLEN(new Drawing()
            .add(Part.anther(PAPER), 0, 2, 0.96)
            .circle(PAPER, 74, 26, 5)
            .circle(PAPER, 86, 40, 5)
            .circle(PAPER, 76, 54, 5)
            .path(THICK, "M 64 66 L 94 14")),

    // When, and how it is sent.
    CLOCK(new Drawing()
            .circle(THICK, 50, 50, 42)
            .path(THICK, "M 50 22 L 50 50 L 70 62")
            .circle(SOLID, 50, 50, 4)),
    DAY_BEFORE(new Drawing()
            .path(PAPER, "M 10 16 L 90 16 L 90 92 L 10 92 Z")
            .path(SOLID, "M 10 16 L 90 16 L 90 36 L 10 36 Z")
            .path(THICK, "M 30 6 L 30 22 M 70 6 L 70 22")
            .path(THICK, "M 48 64 L 74 64")
            .path(SOLID, "M 50 46 L 50 82 L 24 64 Z")),
    LANGUAGE(new Drawing()
            .path(PAPER, "M 4 8 L 70 8 L 70 52 L 36 52 L 20 68 L 20 52 L 4 52 Z")
            .path(LINE, "M 16 22 L 56 22 M 16 37 L 44 37")
            .path(SHADE, "M 34 44 L 96 44 L 96 82 L 82 82 L 82 96 L 66 82 L 34 82 Z")
            .path(LINE, "M 46 57 L 84 57 M 46 69 L 72 69")),
    PHONE(new Drawing()
            .path(
                    PAPER,
                    "M 28 4 L 72 4 C 76 4 78 6 78 10 L 78 90 C 78 94 76 96 72 96 L 28 96"
                            + " C 24 96 22 94 22 90 L 22 10 C 22 6 24 4 28 4 Z")
            .path(SHADE, "M 32 14 L 68 14 L 68 42 L 32 42 Z")
            .circle(SOLID, 36, 54, 3.5)
            .circle(SOLID, 50, 54, 3.5)
            .circle(SOLID, 64, 54, 3.5)
            .circle(SOLID, 36, 68, 3.5)
            .circle(SOLID, 50, 68, 3.5)
            .circle(SOLID, 64, 68, 3.5)
            .circle(SOLID, 36, 82, 3.5)
            .circle(SOLID, 50, 82, 3.5)
            .circle(SOLID, 64, 82, 3.5)),
    CALL(new Drawing()
            .path(
                    SOLID,
                    "M 12 30 C 10 12 22 6 28 6 C 32 6 40 24 40 28 C 40 34 30 38 31 42 C 36 56 46 64 58 69"
                            + " C 62 70 66 60 72 60 C 76 60 94 68 94 72 C 94 80 88 90 72 90 C 44 88 14 58 12 30 Z")
            .path(LINE, "M 58 30 C 66 32 70 38 70 44 M 62 14 C 78 18 86 28 86 42")),
    SPACE(new Drawing().path(THICK, "M 12 44 L 12 64 L 88 64 L 88 44")),
    END(new Drawing().path(THICK, "M 12 54 L 38 80 L 90 22")),

    // Cautions.
    LOOK_INSIDE(new Drawing()
            .add(Part.female(), 16, 22, 0.8)
            .add(Part.bee(), 34, 26, 0.44)
            .path(PAPER, "M 2 18 C 12 2 34 2 44 18 C 34 32 12 32 2 18 Z")
            .circle(SOLID, 24, 17, 7)),
    NOT_IN_MOUTH(new Drawing()
            .circle(PAPER, 40, 46, 36)
            .circle(SOLID, 28, 36, 4)
            .circle(SOLID, 50, 36, 4)
            .path(THICK, "M 26 62 L 54 62 L 66 62")
            .add(Part.blossom(), 48, 34, 0.52, 90)
            .path(THICK, "M 6 94 L 92 6")),
    CUT_AWAY(new Drawing()
            .path(PAPER, "M 4 56 C 4 44 14 42 26 44 L 40 46 C 46 46 46 56 40 58 L 38 74 C 36 84 10 84 4 72 Z")
            .path(LINE, "M 40 58 L 22 58 M 39 66 L 22 66")
            .path(SOLID, "M 40 46 L 84 38 C 82 50 70 56 40 58 Z")
            .path(THICK, "M 34 22 L 74 22")
            .path(SOLID, "M 72 8 L 72 36 L 96 22 Z")),
    HEAT(new Drawing()
            .circle(SOLID, 34, 34, 16)
            .path(LINE, "M 34 4 L 34 12 M 34 56 L 34 64 M 4 34 L 12 34 M 56 34 L 64 34")
            .path(LINE, "M 13 13 L 18 18 M 50 50 L 55 55 M 13 55 L 18 50 M 50 18 L 55 13")
            .path(PAPER, "M 58 50 L 96 50 L 90 96 L 64 96 Z")
            .path(SHADE, "M 60 64 L 94 64 L 90 96 L 64 96 Z")),
    SPRAY(new Drawing()
            .path(THICK, "M 50 74 L 50 98")
            .path(PAPER, "M 50 4 L 94 76 L 6 76 Z")
            .path(THICK, "M 50 30 L 50 52")
            .circle(SOLID, 50, 64, 5)),
    STING(new Drawing()
            .add(Part.bee(), 0, 6, 0.84)
            .path(
                    SOLID,
                    "M 74 60 L 84 60 L 84 70 L 94 70 L 94 80 L 84 80 L 84 90 L 74 90 L 74 80 L 64 80 L 64 70"
                            + " L 74 70 Z"));

    // Drawn once, and never handed out.
    @SuppressWarnings("ImmutableEnumChecker")
    private final Drawing drawing;

    Picture(Drawing drawing) {
        this.drawing = drawing;
    }

    /** What it is made of, the lowest first. */
    List<Drawing.Mark> marks() {
        return drawing.marks();
    }

    /** What several pictures have in them. */
    private static final class Part {

        private Part() {}

        /** Petals from the side, with the tube they stand on. */
        static Drawing blossom() {
            return new Drawing()
                    .path(
                            PAPER,
                            "M 50 72 C 36 66 22 52 6 26 C 16 26 24 29 31 34 C 25 24 25 14 26 4"
                                    + " C 38 10 46 19 50 30 C 54 19 62 10 74 4 C 75 14 75 24 69 34"
                                    + " C 76 29 84 26 94 26 C 78 52 64 66 50 72 Z")
                    .path(LINE, "M 31 34 C 36 46 42 56 48 62 M 69 34 C 64 46 58 56 52 62 M 50 30 L 50 44");
        }

        static Drawing female() {
            return new Drawing()
                    .path(LINE, "M 50 92 L 50 99")
                    .add(blossom(), 0, 0, 1)
                    .circle(PAPER, 50, 82, 12);
        }

        static Drawing male() {
            return new Drawing().path(THICK, "M 50 70 L 50 98").add(blossom(), 0, 0, 1);
        }

        static Drawing bud() {
            return new Drawing()
                    .path(LINE, "M 50 92 L 50 99")
                    .path(PAPER, "M 50 28 C 26 38 20 56 34 72 L 66 72 C 80 56 74 38 50 28 Z")
                    .path(LINE, "M 50 46 L 50 70 M 38 46 C 35 56 38 64 42 70 M 62 46 C 65 56 62 64 58 70")
                    .circle(PAPER, 50, 82, 12);
        }

        /** A clothes-peg with its jaws down. */
        static Drawing peg() {
            return new Drawing()
                    .path(SOLID, "M 30 1 L 40 1 L 49 24 L 48 48 L 39 48 L 41 26 Z")
                    .path(SOLID, "M 70 1 L 60 1 L 51 24 L 52 48 L 61 48 L 59 26 Z")
                    .circle(PAPER, 50, 24, 5);
        }

        /** The pollen bearing middle of a male flower, its petals off. */
        static Drawing anther(Drawing.Ink ink) {
            return new Drawing()
                    .path(THICK, "M 50 66 L 50 98")
                    .path(PAPER, "M 34 60 C 38 72 62 72 66 60 L 58 62 L 50 58 L 42 62 Z")
                    .path(ink, "M 40 58 L 40 18 C 40 4 60 4 60 18 L 60 58 C 54 62 46 62 40 58 Z");
        }

        static Drawing fruit() {
            return new Drawing()
                    .path(THICK, "M 50 4 L 50 18")
                    .circle(PAPER, 50, 56, 40)
                    .path(LINE, "M 50 16 C 30 30 30 82 50 96 M 50 16 C 70 30 70 82 50 96");
        }

        static Drawing plant() {
            return new Drawing()
                    .path(THICK, "M 50 98 L 50 40")
                    .path(SHADE, "M 50 66 C 28 66 20 50 20 40 C 38 38 50 48 50 66 Z")
                    .path(SHADE, "M 50 56 C 72 56 80 40 80 30 C 62 28 50 38 50 56 Z")
                    .path(SHADE, "M 50 40 C 36 30 38 14 50 4 C 62 14 64 30 50 40 Z");
        }

        static Drawing bee() {
            return new Drawing()
                    .oval(PAPER, 42, 28, 12, 20)
                    .oval(PAPER, 62, 28, 12, 20)
                    .oval(PAPER, 52, 58, 32, 20)
                    .path(THICK, "M 42 42 L 42 74 M 54 40 L 54 76 M 66 42 L 66 74")
                    .circle(SOLID, 18, 56, 12)
                    .path(LINE, "M 84 58 L 95 58 M 14 46 L 6 36 M 20 44 L 18 33");
        }

        static Drawing scissors() {
            return new Drawing()
                    .path(THICK, "M 22 16 L 96 46 M 22 54 L 96 24")
                    .circle(PAPER, 13, 13, 11)
                    .circle(PAPER, 13, 57, 11);
        }

        static Drawing cross() {
            return new Drawing().path(THICK, "M 8 8 L 92 92 M 92 8 L 8 92");
        }
    }
}
