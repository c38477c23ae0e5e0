package duskpeg.projections.board;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.board.Board.BoardRow;
import duskpeg.projections.board.BoardStream.Encoder;
import duskpeg.projections.board.BoardStream.Sent;
import duskpeg.projections.board.BoardStream.Watched;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.signin.Watching;
import duskpeg.projections.window.Windows;
import jakarta.servlet.http.HttpServletRequest;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.mvc.method.annotation.ResponseBodyEmitter;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;

/** The board as a page, for a big screen, as JSON, and live as each; and earlier mornings. */
@Controller
class BoardController {

    private static final String WALL = "wall";

    private final Boards boards;
    private final BoardPages pages;
    private final Mornings mornings;
    private final BoardStream stream;
    private final Watching watching;
    private final CurrentFarm current;
    private final Windows windows;
    private final Forecasts forecasts;
    private final Index index;
    private final Clock clock;
    private final Encoder json;
    private final Encoder html;
    private final Encoder wall;

    BoardController(
            Boards boards,
            BoardPages pages,
            Mornings mornings,
            BoardStream stream,
            Watching watching,
            CurrentFarm current,
            Windows windows,
            Forecasts forecasts,
            Index index,
            Clock clock,
            ObjectMapper mapper,
            ITemplateEngine templates) {
        this.boards = boards;
        this.pages = pages;
        this.mornings = mornings;
        this.stream = stream;
        this.watching = watching;
        this.current = current;
        this.windows = windows;
        this.forecasts = forecasts;
        this.index = index;
        this.clock = clock;
        this.json = new JsonEncoder(mapper);
        this.html = new HtmlEncoder(templates, "board", pages);
        this.wall = new HtmlEncoder(templates, WALL, pages);
    }

    /**
     * @param at as known at which time: of that morning as {@code 07:30}, or with a date as {@code 2026-01-14T18:00};
     *     farm time
     * @param view {@code wall} for a big screen
     */
    @GetMapping("/board")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String at,
            @RequestParam(required = false) @Nullable String view,
            Model model) {
        FarmId id = current.farm(farm);
        BoardPage page = page(id, current.morning(id, morning), at);
        LocalDate shown = page.board().morning();
        model.addAttribute("page", page);
        model.addAttribute("window", windows.window(id, shown));
        if (WALL.equals(view)) {
            return WALL;
        }
        LocalDate now = current.morning(id, null);
        model.addAttribute("now", now);
        model.addAttribute("before", mornings.lastBefore(id, shown).orElse(null));
        model.addAttribute("after", mornings.firstAfter(id, shown).orElse(shown.isBefore(now) ? now : null));
        model.addAttribute("replay", Replay.of(page.curve(), clock.instant(), index.settings(id), shown));
        return "board";
    }

    /** The part of the page that changes, as known at a time. */
    @GetMapping("/board/live")
    String live(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String at,
            Model model) {
        FarmId id = current.farm(farm);
        model.addAttribute("page", page(id, current.morning(id, morning), at));
        return "board :: live";
    }

    /** The mornings of which anything was reported. */
    @GetMapping("/board/mornings")
    String mornings(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate before,
            Model model) {
        FarmId id = current.farm(farm);
        LocalDate now = current.morning(id, null);
        model.addAttribute("farm", id.value());
        model.addAttribute("now", now);
        model.addAttribute("some", mornings.before(id, before == null ? now.plusDays(1) : before));
        return "mornings";
    }

    private BoardPage page(FarmId farm, LocalDate morning, @Nullable String at) {
        Instant then = then(farm, morning, at);
        return then == null
                ? pages.live(boards.board(farm, morning, clock.instant()))
                : pages.asKnownAt(farm, morning, then);
    }

    /** The time asked for; null where none was, or where it is still to come, so that nothing later is known. */
    private @Nullable Instant then(FarmId farm, LocalDate morning, @Nullable String at) {
        if (at == null || at.isBlank()) {
            return null;
        }
        Instant then = Replay.time(at, morning, index.settings(farm));
        return then.isAfter(clock.instant()) ? null : then;
    }

    @GetMapping("/api/board")
    @ResponseBody
    Board api(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String at) {
        FarmId id = current.farm(farm);
        LocalDate of = current.morning(id, morning);
        Instant then = then(id, of, at);
        return then == null ? boards.board(id, of, clock.instant()) : boards.boardAsKnownAt(id, of, then);
    }

    /** When each row and the whole morning are expected to be finished. */
    @GetMapping("/api/forecast")
    @ResponseBody
    ForecastView forecast(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String at) {
        FarmId id = current.farm(farm);
        LocalDate of = current.morning(id, morning);
        Instant then = then(id, of, at);
        return ForecastView.of(
                id,
                then == null
                        ? forecasts.forecast(id, of, clock.instant())
                        : forecasts.outlookAsKnownAt(id, of, then, List.of()).forecast(),
                index.settings(id));
    }

    /** Events {@code snapshot} with a whole board, and {@code row} with each row that changed since. */
    @GetMapping(path = "/api/board/stream", produces = MediaType.TEXT_EVENT_STREAM_VALUE)
    ResponseBodyEmitter apiStream(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            HttpServletRequest request) {
        return stream.watch(watched(farm, morning), json, watching.of(request));
    }

    /** Events {@code board} with the live part of the page. */
    @GetMapping(path = "/board/stream", produces = MediaType.TEXT_EVENT_STREAM_VALUE)
    ResponseBodyEmitter pageStream(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String view,
            HttpServletRequest request) {
        return stream.watch(watched(farm, morning), WALL.equals(view) ? wall : html, watching.of(request));
    }

    private Watched watched(@Nullable String farm, @Nullable LocalDate morning) {
        FarmId id = current.farm(farm);
        Duration ahead = Duration.between(Clock.systemUTC().instant(), clock.instant());
        // Whole seconds, so that viewers of one morning share a channel.
        return new Watched(
                id,
                current.morning(id, morning),
                Duration.ofSeconds(ahead.plusMillis(500).toSeconds()));
    }

    /**
     * What a morning can be played back through.
     *
     * @param first the slider's first minute of the day
     * @param last its last; not after now
     */
    record Replay(int first, int last) {

        private static final Pattern CLOCK = Pattern.compile("\\d\\d:\\d\\d");

        /** Further than that from its morning nothing is said of it. */
        private static final long FURTHEST_DAYS = 366;

        private static @Nullable Replay of(
                @Nullable Curve curve, Instant now, FarmSettings settings, LocalDate morning) {
            if (curve == null) {
                return null;
            }
            int first = minute(curve.span().from(), settings, morning);
            int last =
                    Math.min(minute(now, settings, morning), minute(curve.span().to(), settings, morning));
            return last > first ? new Replay(first, last) : null;
        }

        private static int minute(Instant at, FarmSettings settings, LocalDate morning) {
            Instant midnight = morning.atStartOfDay(settings.zone()).toInstant();
            return (int) Math.max(0, Math.min(1439, ChronoUnit.MINUTES.between(midnight, at)));
        }

        /**
         * @throws ResponseStatusException 400 where it is no time
         */
        private static Instant time(String at, LocalDate morning, FarmSettings settings) {
            try {
                LocalDateTime time =
                        CLOCK.matcher(at).matches() ? morning.atTime(LocalTime.parse(at)) : LocalDateTime.parse(at);
                if (Math.abs(ChronoUnit.DAYS.between(morning, time.toLocalDate())) > FURTHEST_DAYS) {
                    throw new DateTimeException("too far from the morning");
                }
                return time.atZone(settings.zone()).toInstant();
            } catch (DateTimeException e) {
                throw new ResponseStatusException(
                        HttpStatus.BAD_REQUEST, "at must be a time as 07:30 or 2026-01-14T18:00", e);
            }
        }
    }

    private record JsonEncoder(ObjectMapper mapper) implements Encoder {

        @Override
        public List<Sent> snapshot(Board board) {
            return List.of(new Sent("snapshot", write(board)));
        }

        @Override
        public List<Sent> changes(Board board, List<BoardRow> changed) {
            return changed.stream().map(row -> new Sent("row", write(row))).toList();
        }

        private String write(Object value) {
            try {
                return mapper.writeValueAsString(value);
            } catch (JsonProcessingException e) {
                throw new IllegalStateException("a board can be written", e);
            }
        }
    }

    private record HtmlEncoder(ITemplateEngine templates, String template, BoardPages pages) implements Encoder {

        private static final Pattern INDENT = Pattern.compile("\\s*\\n\\s*");

        @Override
        public List<Sent> snapshot(Board board) {
            Context context = new Context(Locale.ENGLISH);
            context.setVariable("page", pages.live(board));
            String written = templates.process(template, Set.of("live"), context);
            // A third of it is indentation, which every viewer would be sent.
            return List.of(new Sent("board", INDENT.matcher(written).replaceAll(" ")));
        }

        @Override
        public List<Sent> changes(Board board, List<BoardRow> changed) {
            return snapshot(board);
        }
    }
}
