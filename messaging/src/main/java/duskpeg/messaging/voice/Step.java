package duskpeg.messaging.voice;

import java.util.Arrays;
import java.util.Locale;

/**
 * Where a call is. It travels in the address that the carrier asks next, so that any server can go on with the call.
 *
 * @param stage what the keys that come next are
 * @param number the report this is about, from 1 in each call
 * @param tries how often in a row nothing came of it
 */
record Step(Stage stage, int number, int tries) {

    /** Nothing came of it so often that the call is ended. */
    static final int MOST_TRIES = 2;

    private static final int MOST_REPORTS = 9999;

    /** What is keyed. */
    enum Stage {
        /** Nothing: the call begins. */
        START,
        /** A report or a question. */
        REPORT,
        /** Whether the report that was read back is right. */
        CONFIRM;

        private String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    static final Step START = new Step(Stage.START, 1, 0);

    /** Reads a step back; what is none is the start of a call. */
    static Step of(String stage, String number, String tries) {
        return Arrays.stream(Stage.values())
                .filter(one -> one.word().equals(stage))
                .findFirst()
                .map(one -> new Step(one, number(number, 1, MOST_REPORTS), number(tries, 0, MOST_TRIES)))
                .orElse(START);
    }

    private static int number(String digits, int least, int most) {
        return digits.matches("[0-9]{1,4}") ? Math.max(least, Math.min(most, Integer.parseInt(digits))) : least;
    }

    /** As the query of an address. */
    String query() {
        return "step=" + stage.word() + "&report=" + number + "&tries=" + tries;
    }

    Step nextReport() {
        return new Step(Stage.REPORT, stage == Stage.START ? number : number + 1, 0);
    }

    Step confirm() {
        return new Step(Stage.CONFIRM, number, 0);
    }

    /** The same again, after nothing came of it. */
    Step again() {
        return new Step(stage, number, tries + 1);
    }

    boolean isLast() {
        return tries >= MOST_TRIES;
    }
}
