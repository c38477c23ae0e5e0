package duskpeg.projections.board;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayEvent;
import duskpeg.core.day.DayId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.planting.RowId;
import duskpeg.core.text.Tell;
import duskpeg.projections.board.Moves.Proposal;
import duskpeg.projections.farm.CurrentFarm;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Map;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Whom to move, as a page, as a part of the board and as JSON; and telling her so. */
@Controller
class MovesController {

    /** The board asks with this header for a part of a page; without scripts whole pages are asked for. */
    private static final String PART = "HX-Request";

    private final Moves moves;
    private final CurrentFarm current;
    private final Index index;
    private final CommandGateway commands;
    private final Clock clock;

    MovesController(Moves moves, CurrentFarm current, Index index, CommandGateway commands, Clock clock) {
        this.moves = moves;
        this.current = current;
        this.index = index;
        this.commands = commands;
        this.clock = clock;
    }

    @GetMapping("/api/moves")
    @ResponseBody
    Proposal api(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning) {
        FarmId id = current.farm(farm);
        return moves.proposal(id, current.morning(id, morning), clock.instant());
    }

    @GetMapping("/board/moves")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String told,
            @RequestHeader(name = PART, required = false) @Nullable String part,
            Model model) {
        FarmId id = current.farm(farm);
        model.addAttribute("farm", id.value());
        model.addAttribute("morning", current.morning(id, morning));
        model.addAttribute("proposal", api(farm, morning));
        model.addAttribute("told", told);
        return part == null ? "moves" : "moves :: moves";
    }

    /** Tells a worker where to go, by a text; the same within one minute is told once. */
    @PostMapping("/board/moves")
    String move(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam String worker,
            @RequestParam String row,
            @RequestParam int left,
            @RequestHeader(name = PART, required = false) @Nullable String part,
            RedirectAttributes more,
            Model model) {
        FarmId id = current.farm(farm);
        Instant now = clock.instant();
        try {
            RowId to = new RowId(id, row);
            WorkerId who = new WorkerId(id, worker);
            if (!index.hasRow(to) || !index.workers(id).containsKey(who)) {
                throw new IllegalArgumentException("no such row or worker");
            }
            commands.sendAndWait(new Tell(
                    who,
                    "told.move",
                    Map.of("row", row, "left", Integer.toString(left)),
                    "move-" + worker + "-" + row + "-" + now.truncatedTo(ChronoUnit.MINUTES),
                    true,
                    now));
            commands.sendAndWait(new FieldBook.Enter(new DayEvent.Sent(
                    new DayId(id, index.settings(id).dateAt(now)), who, to, now.truncatedTo(ChronoUnit.MILLIS))));
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, e.getMessage(), e);
        }
        if (part == null) {
            more.addAttribute("farm", id.value());
            more.addAttribute("told", row);
            return "redirect:/board/moves";
        }
        model.addAttribute("told", row);
        return "moves :: told";
    }
}
