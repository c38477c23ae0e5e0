package duskpeg.projections.board;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.board.Board.BoardRow;
import duskpeg.projections.board.BoardStream.Encoder;
import duskpeg.projections.board.BoardStream.Sent;
import duskpeg.projections.board.BoardStream.Watched;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.window.Windows;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.servlet.mvc.method.annotation.SseEmitter;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;

/** The board as a page, as JSON, and live as either. */
@Controller
class BoardController {

    private final Boards boards;
    private final BoardStream stream;
    private final CurrentFarm current;
    private final Windows windows;
    private final Forecasts forecasts;
    private final Index index;
    private final Clock clock;
    private final Encoder json;
    private final Encoder html;

    BoardController(
            Boards boards,
            BoardStream stream,
            CurrentFarm current,
            Windows windows,
            Forecasts forecasts,
            Index index,
            Clock clock,
            ObjectMapper mapper,
            ITemplateEngine templates) {
        this.boards = boards;
        this.stream = stream;
        this.current = current;
        this.windows = windows;
        this.forecasts = forecasts;
        this.index = index;
        this.clock = clock;
        this.json = new JsonEncoder(mapper);
        this.html = new HtmlEncoder(templates, this::forecast);
    }

    @GetMapping("/board")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            Model model) {
        Board board = board(farm, morning);
        model.addAttribute("board", board);
        model.addAttribute("forecast", forecast(board));
        model.addAttribute("window", windows.window(current.farm(farm), board.morning()));
        return "board";
    }

    @GetMapping("/api/board")
    @ResponseBody
    Board api(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning) {
        return board(farm, morning);
    }

    /** When each row and the whole morning are expected to be finished. */
    @GetMapping("/api/forecast")
    @ResponseBody
    ForecastView forecast(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning) {
        FarmId id = current.farm(farm);
        return forecast(id, current.morning(id, morning), clock.instant());
    }

    private ForecastView forecast(Board board) {
        return forecast(new FarmId(board.farm()), board.morning(), board.now().toInstant());
    }

    private ForecastView forecast(FarmId farm, LocalDate morning, Instant now) {
        return ForecastView.of(farm, forecasts.forecast(farm, morning, now), index.settings(farm));
    }

    /** Events {@code snapshot} with a whole board, and {@code row} with each row that changed since. */
    @GetMapping(path = "/api/board/stream", produces = MediaType.TEXT_EVENT_STREAM_VALUE)
    SseEmitter apiStream(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning) {
        return stream.watch(watched(farm, morning), json);
    }

    /** Events {@code board} with the live part of the page. */
    @GetMapping(path = "/board/stream", produces = MediaType.TEXT_EVENT_STREAM_VALUE)
    SseEmitter pageStream(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning) {
        return stream.watch(watched(farm, morning), html);
    }

    private Board board(@Nullable String farm, @Nullable LocalDate morning) {
        FarmId id = current.farm(farm);
        return boards.board(id, current.morning(id, morning), clock.instant());
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

    private record HtmlEncoder(ITemplateEngine templates, Function<Board, ForecastView> forecasts) implements Encoder {

        @Override
        public List<Sent> snapshot(Board board) {
            Context context = new Context(Locale.ENGLISH);
            context.setVariable("board", board);
            context.setVariable("forecast", forecasts.apply(board));
            return List.of(new Sent("board", templates.process("board", Set.of("live"), context)));
        }

        @Override
        public List<Sent> changes(Board board, List<BoardRow> changed) {
            return snapshot(board);
        }
    }
}
