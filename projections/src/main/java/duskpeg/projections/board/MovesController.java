package duskpeg.projections.board;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
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
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** Whom to move, as a part of the board and as JSON; and telling her so. */
@Controller
class MovesController {

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
            Model model) {
        FarmId id = current.farm(farm);
        model.addAttribute("farm", id.value());
        model.addAttribute("proposal", api(farm, morning));
        return "moves";
    }

    /** Tells a worker where to go, by a text; the same within one minute is told once. */
    @PostMapping("/board/moves")
    String move(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam String worker,
            @RequestParam String row,
            @RequestParam int left,
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
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, e.getMessage(), e);
        }
        model.addAttribute("told", row);
        return "moves :: told";
    }
}
