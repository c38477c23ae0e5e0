package duskpeg.projections.inbox;

import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.settle.How;
import duskpeg.core.settle.Settle;
import duskpeg.core.settle.Settle.Result;
import duskpeg.core.text.Readings;
import duskpeg.core.text.WaitingTexts;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.inbox.Inbox.Who;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.function.Supplier;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The inbox as a page and as JSON, and the forms that settle. Each form leads back to the page. */
@Controller
class InboxController {

    /** Longer than any text a carrier delivers. */
    private static final int LONGEST = 1600;

    private static final int SALT_BYTES = 16;

    private final Inboxes inboxes;
    private final WaitingTexts waitingTexts;
    private final Readings readings;
    private final CommandGateway commands;
    private final CurrentFarm current;
    private final Clock clock;
    private final SecureRandom random = new SecureRandom();

    InboxController(
            Inboxes inboxes,
            WaitingTexts waitingTexts,
            Readings readings,
            CommandGateway commands,
            CurrentFarm current,
            Clock clock) {
        this.inboxes = inboxes;
        this.waitingTexts = waitingTexts;
        this.readings = readings;
        this.commands = commands;
        this.current = current;
        this.clock = clock;
    }

    @GetMapping("/inbox")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String by,
            @RequestParam(defaultValue = "") String said,
            @RequestParam(defaultValue = "") String text,
            @RequestParam(defaultValue = "0") int line,
            @RequestParam(defaultValue = "") String tried,
            Model model) {
        FarmId id = current.farm(farm);
        List<Who> supervisors = inboxes.supervisors(id);
        Who me = supervisors.stream()
                .filter(one -> one.worker().equals(by))
                .findFirst()
                .or(() -> supervisors.stream().findFirst())
                .orElse(null);
        model.addAttribute("inbox", inboxes.inbox(id));
        model.addAttribute("supervisors", supervisors);
        model.addAttribute("crew", inboxes.crew(id));
        model.addAttribute("me", me == null ? "" : me.worker());
        model.addAttribute("said", said);
        model.addAttribute("tried", tried);
        model.addAttribute("triedAt", text + "." + line);
        if (said.equals(Result.NOT_READ.word())) {
            model.addAttribute(
                    "why",
                    waitingTexts
                            .find(parsed(() -> new TextId(id, text)), line)
                            .map(waiting -> readings.problemWith(waiting, tried))
                            .orElse(""));
        }
        return "inbox";
    }

    @GetMapping("/api/inbox")
    @ResponseBody
    Inbox api(@RequestParam(required = false) @Nullable String farm) {
        return inboxes.inbox(current.farm(farm));
    }

    /**
     * How many things wait.
     *
     * @param waiting how many
     */
    record Waiting(int waiting) {}

    @GetMapping("/api/inbox/waiting")
    @ResponseBody
    Waiting waiting(@RequestParam(required = false) @Nullable String farm) {
        return new Waiting(inboxes.waiting(current.farm(farm)));
    }

    /** A line was meant so. */
    @PostMapping("/inbox/read")
    String read(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam String by,
            @RequestParam String text,
            @RequestParam int line,
            @RequestParam String words,
            @RequestParam(defaultValue = "") String worker,
            RedirectAttributes back) {
        FarmId id = current.farm(farm);
        String said = words.strip();
        Result result = send(new Settle.ReadSo(
                parsed(() -> new TextId(id, text)),
                line,
                worker.isEmpty() ? null : worker(id, worker),
                own(id, said),
                worker(id, by),
                now()));
        if (result == Result.NOT_READ || result == Result.TAKES_BACK) {
            back.addAttribute("text", text);
            back.addAttribute("line", line);
            back.addAttribute("tried", said);
        }
        return back(farm, by, result, back);
    }

    /** A text is that worker's. */
    @PostMapping("/inbox/sender")
    String sender(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam String by,
            @RequestParam String text,
            @RequestParam String worker,
            @RequestParam(defaultValue = "false") boolean herNumber,
            RedirectAttributes back) {
        FarmId id = current.farm(farm);
        Result result = send(new Settle.SaidBy(
                parsed(() -> new TextId(id, text)), worker(id, worker), herNumber, worker(id, by), now()));
        return back(farm, by, result, back);
    }

    /** There is nothing to record in a line. */
    @PostMapping("/inbox/nothing")
    String nothing(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam String by,
            @RequestParam String text,
            @RequestParam int line,
            @RequestParam String how,
            RedirectAttributes back) {
        FarmId id = current.farm(farm);
        How why = Arrays.stream(How.values())
                .filter(one -> one.recordsNothing() && one.word().equals(how))
                .findFirst()
                .orElseThrow(() -> new ResponseStatusException(HttpStatus.BAD_REQUEST, "no such reason"));
        Result result = send(new Settle.Nothing(parsed(() -> new TextId(id, text)), line, why, worker(id, by), now()));
        return back(farm, by, result, back);
    }

    /** What is questioned is as it was reported. */
    @PostMapping("/inbox/as-reported")
    String asReported(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam String by,
            @RequestParam String subject,
            @RequestParam String question,
            @RequestParam(defaultValue = "") String note,
            RedirectAttributes back) {
        FarmId id = current.farm(farm);
        Result result = send(new Settle.AsReported(
                parsed(() -> Subject.parse(subject)),
                question,
                note.isBlank() ? null : own(id, note.strip()),
                worker(id, by),
                now()));
        return back(farm, by, result, back);
    }

    private Result send(Settle settle) {
        return commands.sendAndWait(settle);
    }

    private static String back(@Nullable String farm, String by, Result result, RedirectAttributes back) {
        if (farm != null) {
            back.addAttribute("farm", farm);
        }
        back.addAttribute("by", by);
        back.addAttribute("said", result.word());
        return "redirect:/inbox";
    }

    private static WorkerId worker(FarmId farm, String pseudonym) {
        return parsed(() -> new WorkerId(farm, pseudonym));
    }

    /** What a form was sent with may be anything. */
    private static <T> T parsed(Supplier<T> parse) {
        try {
            return parse.get();
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, e.getMessage(), e);
        }
    }

    private Settle.Own own(FarmId farm, String words) {
        if (words.length() > LONGEST || words.indexOf('\0') >= 0) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, "not words of a text");
        }
        return new Settle.Own(new TextId(farm, "in-" + hex()), words, hex());
    }

    private String hex() {
        byte[] value = new byte[SALT_BYTES];
        random.nextBytes(value);
        return HexFormat.of().formatHex(value);
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
