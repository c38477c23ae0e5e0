package duskpeg.projections.board;

import com.fasterxml.jackson.annotation.JsonIgnore;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Forecast.Finish;
import duskpeg.core.forecast.Forecast.Hand;
import duskpeg.core.forecast.Forecast.RowFinish;
import duskpeg.core.watch.Watch;
import duskpeg.projections.Chance;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * The forecast of a morning as shown and as published. Instants are of the farm's zone.
 *
 * @param farm the farm's id
 * @param morning the opening morning
 * @param now when it was made, to the minute
 * @param target when the work should be finished
 * @param limit the cut-off
 * @param whole the whole morning; null where nothing is pegged
 * @param rows rows with something pegged
 * @param workers who has reported this morning, or may come
 * @param reports how many reports of this morning it was read from
 * @param earlier how many reports of earlier mornings
 * @param note what it rests on, for people
 */
record ForecastView(
        String farm,
        LocalDate morning,
        OffsetDateTime now,
        OffsetDateTime target,
        OffsetDateTime limit,
        @Nullable FinishView whole,
        List<RowView> rows,
        List<WorkerView> workers,
        int reports,
        int earlier,
        String note) {

    ForecastView {
        rows = List.copyOf(rows);
        workers = List.copyOf(workers);
    }

    /**
     * A finish: when the last flower is tied, whenever that is reported.
     *
     * @param now when it was made
     * @param p10 by then with a chance of 10%, which may be before now; null where it is not in sight
     * @param p50 by then with a chance of 50%; null likewise
     * @param p90 by then with a chance of 90%; null likewise
     * @param byNow chance that it is finished already, and only not reported, 0 to 1
     * @param byTarget chance of the target, 0 to 1
     * @param byLimit chance of the limit, 0 to 1
     */
    record FinishView(
            @JsonIgnore OffsetDateTime now,
            @Nullable OffsetDateTime p10,
            @Nullable OffsetDateTime p50,
            @Nullable OffsetDateTime p90,
            double byNow,
            double byTarget,
            double byLimit) {

        private static FinishView of(Finish finish, Instant now, ZoneId zone) {
            return new FinishView(
                    now.atZone(zone).toOffsetDateTime(),
                    local(finish.p10(), zone),
                    local(finish.p50(), zone),
                    local(finish.p90(), zone),
                    finish.byNow(),
                    finish.byTarget(),
                    finish.byLimit());
        }

        /** Whether it is more likely finished already than not, so that only the report is missing. */
        @JsonIgnore
        public boolean isProbablyDone() {
            return p50 != null && !p50.isAfter(now);
        }

        /** When it is expected, for people. */
        @JsonIgnore
        public String getAbout() {
            return p50 == null ? "not in sight" : clock(p50);
        }

        /** Within which times it is with a chance of 80%, for people: of those that are still to come. */
        @JsonIgnore
        public String getRange() {
            if (p90 != null && !p90.isAfter(now)) {
                return "by now";
            }
            return (p10 == null ? "later" : clock(p10)) + "–" + (p90 == null ? "?" : clock(p90));
        }

        /** Chance that it is finished already, in hundredths. */
        @JsonIgnore
        public String getNowChance() {
            return Chance.of(byNow);
        }

        /** Chance of the target, in hundredths. */
        @JsonIgnore
        public String getTargetChance() {
            return Chance.of(byTarget);
        }

        /** Chance of the limit, in hundredths. */
        @JsonIgnore
        public String getLimitChance() {
            return Chance.of(byLimit);
        }

        /** Whether it may well miss the limit. */
        @JsonIgnore
        public boolean isAtRisk() {
            return byLimit < Watch.AT_RISK;
        }

        private String clock(OffsetDateTime at) {
            return !at.isAfter(now) ? "now" : String.format(Locale.ROOT, "%tH:%<tM", at);
        }
    }

    /**
     * A row.
     *
     * @param row the row
     * @param left flowers still to be tied
     * @param finish when
     * @param evidence what that was read from
     */
    record RowView(String row, int left, FinishView finish, Evidence evidence) {}

    /**
     * What a row's forecast was read from.
     *
     * @param work whole flowers' worth of work left; 0 where its crew said that it is finished
     * @param workers who is taken to be there now, by pseudonym
     * @param flowersAnHour what they do together in an hour, on average
     * @param ease how long the work takes here, 1 as in any row
     * @param reports reports from the row this morning
     */
    record Evidence(double work, List<String> workers, double flowersAnHour, double ease, int reports) {}

    /**
     * A worker.
     *
     * @param worker her pseudonym
     * @param row where she is taken to be; null where that is not known
     * @param flowersAnHour what she does in an hour, on average
     * @param here chance that she is at work, 0 to 1
     * @param reports her reports this morning
     * @param earlier her reports on earlier mornings
     */
    record WorkerView(
            String worker, @Nullable String row, double flowersAnHour, double here, int reports, int earlier) {}

    /** The view of a forecast. */
    static ForecastView of(FarmId farm, Forecast forecast, FarmSettings settings) {
        ZoneId zone = settings.zone();
        int reports = forecast.hands().stream().mapToInt(Hand::reports).sum();
        int earlier = forecast.hands().stream().mapToInt(Hand::earlier).sum();
        Finish whole = forecast.whole();
        return new ForecastView(
                farm.value(),
                forecast.morning(),
                forecast.now().atZone(zone).toOffsetDateTime(),
                settings.targetOn(forecast.morning()).atZone(zone).toOffsetDateTime(),
                settings.limitOn(forecast.morning()).atZone(zone).toOffsetDateTime(),
                whole == null ? null : FinishView.of(whole, forecast.now(), zone),
                forecast.rows().stream()
                        .map(row -> row(row, forecast.now(), zone))
                        .toList(),
                forecast.hands().stream().map(ForecastView::worker).toList(),
                reports,
                earlier,
                note(reports, earlier));
    }

    private static RowView row(RowFinish row, Instant now, ZoneId zone) {
        return new RowView(
                row.row().label(),
                row.left(),
                FinishView.of(row.finish(), now, zone),
                new Evidence(
                        tenths(row.units()),
                        row.workers().stream().map(WorkerId::pseudonym).toList(),
                        tenths(row.flowersAnHour()),
                        Math.round(100 * row.ease()) / 100.0,
                        row.reports()));
    }

    private static WorkerView worker(Hand hand) {
        return new WorkerView(
                hand.worker().pseudonym(),
                hand.row() == null ? null : hand.row().label(),
                tenths(hand.flowersAnHour()),
                Math.round(100 * hand.here()) / 100.0,
                hand.reports(),
                hand.earlier());
    }

    private static String note(int reports, int earlier) {
        if (reports > 0) {
            return "From " + reports + (reports == 1 ? " report" : " reports") + " of this morning"
                    + (earlier > 0 ? " and " + earlier + " of earlier ones." : ".");
        }
        return earlier > 0
                ? "Nothing done is reported yet: from earlier mornings."
                : "Nothing done is reported yet, nor on an earlier morning: a wide guess.";
    }

    /** The finishes of the rows with work left, by row. */
    @JsonIgnore
    public Map<String, FinishView> getByRow() {
        return rows.stream()
                .filter(row -> row.evidence().work() > 0)
                .collect(Collectors.toMap(RowView::row, RowView::finish));
    }

    private static double tenths(double value) {
        return Math.round(10 * value) / 10.0;
    }

    private static @Nullable OffsetDateTime local(@Nullable Instant at, ZoneId zone) {
        return at == null
                ? null
                : at.truncatedTo(ChronoUnit.SECONDS).atZone(zone).toOffsetDateTime();
    }
}
