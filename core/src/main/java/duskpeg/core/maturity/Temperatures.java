package duskpeg.core.maturity;

import duskpeg.core.csv.Csv;
import duskpeg.core.csv.Import;
import duskpeg.core.csv.Line;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Temperatures of some days; there may be gaps. */
public final class Temperatures {

    private static final String CELSIUS = "c";
    private static final String FAHRENHEIT = "f";

    /** The longest time that is added up, in days: a year of them. */
    private static final long LONGEST = 366;

    private final TreeMap<LocalDate, DayTemperature> days = new TreeMap<>();

    /**
     * Temperatures of these days, in any order.
     *
     * @throws IllegalArgumentException if a day is there twice
     */
    public Temperatures(List<DayTemperature> days) {
        for (DayTemperature day : days) {
            if (this.days.putIfAbsent(day.date(), day) != null) {
                throw new IllegalArgumentException(day.date() + " is there twice");
            }
        }
    }

    /** Of how many days from one to the other, both included, something is known. */
    public int known(LocalDate from, LocalDate to) {
        return days.subMap(from, true, to, true).size();
    }

    /**
     * Reads a file with the columns {@code date,tmax_c,tmin_c} or {@code date,tmax_f,tmin_f}, in any order. The header
     * must say degrees Celsius or Fahrenheit, since 50 may be either.
     *
     * @return every day, or every problem with its line
     */
    public static Import<DayTemperature> read(String csv) {
        return Csv.read(csv, columns -> {
            boolean celsius = columns.contains("tmax_" + CELSIUS);
            if (!celsius && !columns.contains("tmax_" + FAHRENHEIT)) {
                throw new IllegalArgumentException("the header is " + String.join(",", columns)
                        + ", wanted: date,tmax_c,tmin_c or date,tmax_f,tmin_f");
            }
            String unit = celsius ? CELSIUS : FAHRENHEIT;
            Csv.wants(columns, List.of("date", "tmax_" + unit, "tmin_" + unit));
            Map<LocalDate, Integer> seen = new HashMap<>();
            return line -> {
                DayTemperature day = new DayTemperature(
                        line.date("date"), celsius(line, "tmax_", unit), celsius(line, "tmin_", unit));
                Integer earlier = seen.putIfAbsent(day.date(), line.number());
                if (earlier != null) {
                    throw new IllegalArgumentException(day.date() + " stands on line " + earlier + " already");
                }
                return day;
            };
        });
    }

    private static double celsius(Line line, String column, String unit) {
        double value = line.number(column + unit).doubleValue();
        return unit.equals(FAHRENHEIT) ? (value - 32) * 5 / 9 : value;
    }

    /**
     * Degree-days of some days together.
     *
     * @param degreeDays of the days that are known, in degrees Celsius
     * @param how how they were reckoned
     * @param base the row of the base
     * @param upper the row of the upper temperature
     * @param from the first day
     * @param to the last day
     * @param missing the days between them of which nothing is known; they count for nothing
     * @param sentence it, in plain English
     */
    public record Accumulated(
            double degreeDays,
            DegreeDays how,
            Row base,
            Row upper,
            LocalDate from,
            LocalDate to,
            List<LocalDate> missing,
            String sentence) {

        public Accumulated {
            missing = List.copyOf(missing);
        }
    }

    /**
     * Adds up degree-days, both days included. A fruit's are added up from the day it was pollinated.
     *
     * @param how how they are reckoned
     * @throws IllegalArgumentException if the last day is before the first, or more than a year after it
     */
    public Accumulated accumulated(LocalDate from, LocalDate to, DegreeDays how, Published published) {
        if (to.isBefore(from) || from.plusDays(LONGEST).isBefore(to)) {
            throw new IllegalArgumentException("from " + from + " to " + to);
        }
        Row base = published.get(Table.DEGREE_DAYS, "base");
        Row upper = published.get(Table.DEGREE_DAYS, "upper");
        double sum = 0;
        int known = 0;
        List<LocalDate> missing = new ArrayList<>();
        for (LocalDate date = from; !date.isAfter(to); date = date.plusDays(1)) {
            DayTemperature day = days.get(date);
            if (day == null) {
                missing.add(date);
            } else {
                known++;
                sum += how.of(
                        day.highest(),
                        day.lowest(),
                        base.number().doubleValue(),
                        upper.number().doubleValue());
            }
        }
        String sentence = Figures.plain(sum, 1) + " degree-days Celsius in " + Figures.count(known, "day") + " from "
                + from + " to " + to + " (" + how.title() + ", base " + base.cited()
                + (how == DegreeDays.CLIPPED || how == DegreeDays.SINE_CUT_OFF ? ", upper " + upper.cited() : "") + ")."
                + (missing.isEmpty()
                        ? ""
                        : " Nothing is known of " + Figures.count(missing.size(), "day")
                                + ", which count for nothing, so it may be too low: the first is " + missing.get(0)
                                + ".")
                + " How many ripe seed needs is not published.";
        return new Accumulated(sum, how, base, upper, from, to, missing, sentence);
    }
}
