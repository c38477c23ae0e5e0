package duskpeg.projections.board;

import duskpeg.core.act.Act;
import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.Caution;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Forecaster;
import duskpeg.core.forecast.Morning;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.window.Window;
import duskpeg.projections.board.BoardPage.Place;
import duskpeg.projections.board.Curve.Span;
import duskpeg.projections.board.ForecastView.WorkerView;
import duskpeg.projections.board.Forecasts.Outlook;
import duskpeg.projections.parking.Parking;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.BinaryOperator;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Makes boards into pages. */
@Component
class BoardPages {

    private static final DateTimeFormatter UNTIL = DateTimeFormatter.ofPattern("d MMM HH:mm", Locale.ENGLISH);

    private final Boards boards;
    private final Forecasts forecasts;
    private final Index index;
    private final People people;
    private final Parking parking;

    BoardPages(Boards boards, Forecasts forecasts, Index index, People people, Parking parking) {
        this.parking = parking;
        this.boards = boards;
        this.forecasts = forecasts;
        this.index = index;
        this.people = people;
    }

    /** A board as things stand. */
    BoardPage live(Board board) {
        return page(board, null);
    }

    /** The board as it was known at a time, by what was heard until then. */
    BoardPage asKnownAt(FarmId farm, LocalDate morning, Instant at) {
        return page(boards.boardAsKnownAt(farm, morning, at), at);
    }

    private BoardPage page(Board board, @Nullable Instant at) {
        FarmId farm = new FarmId(board.farm());
        FarmSettings settings = index.settings(farm);
        Instant now = board.now().toInstant();
        Morning morning = boards.morning(farm, board.morning(), at);
        Span span = span(farm, settings, morning, now);
        List<Instant> toCome = board.getLeft() > 0 ? span.toCome(now) : List.of();
        Outlook outlook = at == null
                ? forecasts.outlook(farm, board.morning(), now, toCome)
                : forecasts.outlookAsKnownAt(farm, board.morning(), at, toCome);
        ForecastView forecast = ForecastView.of(farm, outlook.forecast(), settings);
        List<Place> places = places(farm, settings, morning, forecast);
        FieldMap map = FieldMap.of(
                board,
                now.isBefore(board.limit().toInstant()) ? forecast.getByRow() : Map.of(),
                places.stream()
                        .filter(place -> !place.silent())
                        .collect(Collectors.groupingBy(
                                Place::row, Collectors.mapping(Place::name, Collectors.toList()))),
                index.closed(farm, now).stream().map(RowId::label).collect(Collectors.toSet()));
        return new BoardPage(
                board,
                forecast,
                map,
                map.atRisk(),
                places,
                board.getTied() + board.getLeft() == 0 ? null : Curve.of(board, morning, outlook.progress(), span),
                index.cautions(farm, now).stream()
                        .filter(caution -> caution.isOnAt(now))
                        .map(caution -> sentence(caution, settings))
                        .toList(),
                parking.count(BoardProjection.NAME, farm),
                at == null ? null : board.now());
    }

    private static String sentence(Caution caution, FarmSettings settings) {
        String where = caution.planting() == null ? "the whole farm" : caution.planting();
        String until = UNTIL.format(caution.until().atZone(settings.zone()));
        return switch (caution.kind()) {
            case SPRAY -> "Sprayed: " + where + ". Do not enter before " + until + ". The label governs.";
            case HEAT -> "Heat until " + until + ": " + where + ". Water, shade, rest, nobody alone.";
        };
    }

    private Span span(FarmId farm, FarmSettings settings, Morning morning, Instant now) {
        Window window = Window.of(
                settings,
                morning.date(),
                index.plantings(farm).stream().map(Planting::species).toList());
        boolean ofThatDay = settings.dateAt(now).equals(morning.date());
        return Span.of(
                window.opens().orElse(window.target().minus(Forecaster.START_BEFORE_TARGET)),
                window.limit(),
                morning,
                ofThatDay ? now : window.limit());
    }

    private List<Place> places(FarmId farm, FarmSettings settings, Morning morning, ForecastView forecast) {
        Map<WorkerId, Act.OnFlowers> last = morning.rounds().stream()
                .flatMap(round -> round.acts().stream())
                .filter(act -> act.deed().ofTheVisit())
                .collect(Collectors.toMap(
                        act -> act.told().by(),
                        act -> act,
                        BinaryOperator.maxBy(
                                Comparator.comparing(act -> act.told().done()))));
        Map<WorkerId, String> names = people.names(farm);
        Set<String> gone = forecast.workers().stream()
                .filter(worker -> worker.here() < 0.5)
                .map(WorkerView::worker)
                .collect(Collectors.toSet());
        return last.entrySet().stream()
                .map(one -> new Place(
                        names.getOrDefault(one.getKey(), one.getKey().pseudonym()),
                        one.getValue().round().row().label(),
                        String.format(
                                Locale.ROOT,
                                "%tH:%<tM",
                                one.getValue().told().done().atZone(settings.zone())),
                        gone.contains(one.getKey().pseudonym())))
                .sorted(Comparator.comparing((Place place) -> Integer.valueOf(place.row()))
                        .thenComparing(Place::name))
                .toList();
    }
}
