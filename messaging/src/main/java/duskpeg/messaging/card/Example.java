package duskpeg.messaging.card;

import duskpeg.core.farm.FarmId;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Reader;
import duskpeg.messaging.language.Reading;
import java.util.List;

/**
 * A line that the card teaches.
 *
 * @param keys in as few keys as can be
 * @param words the same in words
 */
record Example(String keys, String words) {

    /** The farm its rows are of. */
    static final FarmId FARM = new FarmId("card");

    /** The digits of the farm's ties, as in docs/field-language.md. */
    static final int TIE_WIDTH = 6;

    /**
     * Makes sure that both are read as they should be.
     *
     * @param meaning what; its offsets make no difference
     * @throws IllegalStateException if one of them is not
     */
    Example readAs(Reading meaning, Reader reader) {
        for (String line : List.of(keys, words)) {
            List<Line> read = reader.read(line, FARM, TIE_WIDTH);
            if (read.size() != 1 || !same(read.get(0).reading(), meaning)) {
                throw new IllegalStateException(
                        "the card says \"" + line + "\", which is read as " + read + ", not as " + meaning);
            }
        }
        return this;
    }

    private static boolean same(Reading read, Reading meant) {
        if (read instanceof Reading.Said said && meant instanceof Reading.Said should) {
            return said.statement().equals(should.statement()) && said.when().equals(should.when());
        }
        return read.equals(meant);
    }
}
