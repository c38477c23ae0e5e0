package duskpeg.messaging.language;

import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;

/** A question or a wish a worker texts. */
public sealed interface Ask {

    /** What is left to do this morning. */
    record Morning() implements Ask {}

    /**
     * How a row stands.
     *
     * @param row the row
     */
    record OfRow(RowId row) implements Ask {}

    /**
     * How a plant stands.
     *
     * @param plant the plant
     */
    record OfPlant(PlantId plant) implements Ask {}

    /** Which row to go to next. */
    record Next() implements Ask {}

    /** Nothing is asked: she has seen what she was told. */
    record Seen() implements Ask {}

    /**
     * What is known of a tied fruit.
     *
     * @param tie its tie
     */
    record OfTie(TieNumber tie) implements Ask {}

    /**
     * To be read and answered in another language.
     *
     * @param code its code; what she wrote in its place, in small letters, where that is no language that is known
     */
    record Language(String code) implements Ask {}

    /** How to text. */
    record Help() implements Ask {}
}
