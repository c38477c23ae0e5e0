package duskpeg.core.act;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.lot.LotId;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.RoundId;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Optional;

/**
 * What an event is about. Its text form, {@code farm/kind/…}, names its stream in the event store and stands for it
 * in stored JSON.
 */
public interface Subject {

    /** The farm it belongs to. */
    FarmId farm();

    /** The row it is in, where the subject itself says so. */
    default Optional<RowId> inRow() {
        return Optional.empty();
    }

    /**
     * Reads the text form back.
     *
     * @throws IllegalArgumentException if it is not the text form of a subject
     */
    static Subject parse(String text) {
        String[] part = text.split("/", -1);
        FarmId farm = new FarmId(part[0]);
        if (part.length == 1) {
            return farm;
        }
        return switch (part[1] + part.length) {
            case "row3" -> new RowId(farm, part[2]);
            case "row4" -> new RoundId(new RowId(farm, part[2]), date(part[3]));
            case "tie3" -> new FruitId(farm, new TieNumber(part[2]));
            case "worker3" -> new WorkerId(farm, part[2]);
            case "lot3" -> new LotId(farm, part[2]);
            case "day3" -> new DayId(farm, date(part[2]));
            case "text3" -> new TextId(farm, part[2]);
            default -> throw new IllegalArgumentException("not a subject: " + text);
        };
    }

    private static LocalDate date(String text) {
        try {
            return LocalDate.parse(text);
        } catch (DateTimeParseException e) {
            throw new IllegalArgumentException("not a date: " + text, e);
        }
    }
}
