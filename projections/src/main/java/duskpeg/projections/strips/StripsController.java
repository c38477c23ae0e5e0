package duskpeg.projections.strips;

import duskpeg.core.act.Act;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Handling;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** The strips as pages and as JSON, and the forms by which their custody is entered. */
@Controller
class StripsController {

    private final Strips strips;
    private final Index index;
    private final People people;
    private final CurrentFarm current;
    private final CommandGateway commands;
    private final Clock clock;

    StripsController(
            Strips strips, Index index, People people, CurrentFarm current, CommandGateway commands, Clock clock) {
        this.strips = strips;
        this.index = index;
        this.people = people;
        this.current = current;
        this.commands = commands;
        this.clock = clock;
    }

    /**
     * What a form holds; nothing of it is trusted.
     *
     * @param farm the farm; the first one where it is left out
     * @param by who enters it, by pseudonym
     * @param worker whose hands it is about, by pseudonym
     * @param to who gets the ties, by pseudonym
     * @param first the first number of a new strip, or the first tie that is handed over, returned, lost or damaged
     * @param last the last number of a new strip
     * @param printed whether the new strip is of tags with check digits
     */
    record Form(
            @Nullable String farm,
            @Nullable String by,
            @Nullable String worker,
            @Nullable String to,
            @Nullable String first,
            @Nullable String last,
            @Nullable Boolean printed) {}

    /** Something in a form can't be done; the message says it in plain words. */
    private static final class NotDone extends RuntimeException {

        private static final long serialVersionUID = 1L;

        NotDone(String message) {
            super(message, null, false, false);
        }
    }

    @GetMapping("/strips")
    String page(@ModelAttribute("form") Form form, Model model) {
        return page(form, current.farm(form.farm()), model);
    }

    private String page(Form form, FarmId farm, Model model) {
        model.addAttribute("farm", farm.value());
        model.addAttribute("all", strips.all(farm));
        model.addAttribute("crew", people.all(farm));
        model.addAttribute("form", form);
        return "strips";
    }

    @GetMapping("/strips/{tie}")
    String strip(
            @PathVariable String tie,
            @ModelAttribute("form") Form form,
            @RequestParam(required = false) @Nullable String done,
            Model model) {
        FarmId farm = current.farm(form.farm());
        model.addAttribute("done", done);
        return strip(
                whole(farm, tie).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND, noStrip(tie))),
                form,
                farm,
                model);
    }

    private String strip(StripView.Whole whole, Form form, FarmId farm, Model model) {
        model.addAttribute("farm", farm.value());
        model.addAttribute("strip", whole.strip());
        model.addAttribute("fates", whole.fates());
        model.addAttribute("crew", people.all(farm));
        model.addAttribute("form", form);
        return "strip";
    }

    @GetMapping("/api/strips")
    @ResponseBody
    StripView.All api(@RequestParam(required = false) @Nullable String farm) {
        return strips.all(current.farm(farm));
    }

    @GetMapping("/api/strips/{tie}")
    @ResponseBody
    StripView.Whole api(@PathVariable String tie, @RequestParam(required = false) @Nullable String farm) {
        return whole(current.farm(farm), tie)
                .orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND, noStrip(tie)));
    }

    private static String noStrip(String tie) {
        return "Tie " + tie + " is on no strip of this farm.";
    }

    private Optional<StripView.Whole> whole(FarmId farm, String tie) {
        try {
            return strips.strip(farm, tie(farm, tie));
        } catch (NotDone e) {
            return Optional.empty();
        }
    }

    @PostMapping("/strips/issue")
    String issue(@ModelAttribute("form") Form form, Model model, HttpServletResponse response) {
        return enter(
                form, model, response, farm -> new Handling.Issue(worker(farm, form.worker()), newStrip(farm, form)));
    }

    @PostMapping("/strips/return")
    String giveBack(@ModelAttribute("form") Form form, Model model, HttpServletResponse response) {
        return enter(form, model, response, farm -> new Handling.GiveBack(holder(farm, form), tie(farm, form.first())));
    }

    @PostMapping("/strips/lost")
    String lost(@ModelAttribute("form") Form form, Model model, HttpServletResponse response) {
        return enter(form, model, response, farm -> new Handling.Lose(holder(farm, form), tie(farm, form.first())));
    }

    @PostMapping("/strips/hand-over")
    String handOver(@ModelAttribute("form") Form form, Model model, HttpServletResponse response) {
        return enter(
                form,
                model,
                response,
                farm -> new Handling.HandOver(holder(farm, form), receiver(farm, form), tie(farm, form.first())));
    }

    @PostMapping("/strips/damaged")
    String damaged(@ModelAttribute("form") Form form, Model model, HttpServletResponse response) {
        return enter(
                form,
                model,
                response,
                farm -> new Handling.Damage(holder(farm, form), List.of(tie(farm, form.first()))));
    }

    /** Enters what a form says and leads back to the strip; or shows the page again and says what is wrong. */
    private String enter(Form form, Model model, HttpServletResponse response, Function<FarmId, Handling> read) {
        FarmId farm = current.farm(form.farm());
        try {
            WorkerId by = worker(farm, form.by());
            Handling handling = read.apply(farm);
            Handled handled = commands.sendAndWait(
                    new FieldBook.HandleTies(handling, by, clock.instant().truncatedTo(ChronoUnit.MILLIS)));
            if (handled instanceof Handled.Done done) {
                return "redirect:/strips/" + done.events().get(0).ties().first() + "?farm=" + farm.value() + "&done="
                        + done.events().get(0).kind().word();
            }
            throw new NotDone(said(handled));
        } catch (NotDone e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
            model.addAttribute("problem", e.getMessage());
            return page(form, farm, model);
        }
    }

    private String said(Handled handled) {
        if (handled instanceof Handled.NotFree notFree) {
            return "This strip is not free: " + notFree.tie() + " "
                    + notFree.holder()
                            .map(holder -> "is in the hands of " + name(holder))
                            .orElse("is on a fruit")
                    + ". That it was claimed is kept below as a question.";
        }
        return "Nothing was entered: these ties are not in the hands of that worker.";
    }

    private String name(WorkerId worker) {
        return people.find(worker).map(People.Person::name).orElse(worker.pseudonym());
    }

    private WorkerId worker(FarmId farm, @Nullable String pseudonym) {
        return index.workers(farm).keySet().stream()
                .filter(worker -> worker.pseudonym().equals(pseudonym))
                .findFirst()
                .orElseThrow(() -> new NotDone("Nothing was entered: choose who does it, and whose strip it is."));
    }

    /** Whose ties they are: what is left on a strip of somebody who was erased can be taken back as well. */
    private WorkerId holder(FarmId farm, Form form) {
        return index.erased(farm).keySet().stream()
                .filter(worker -> worker.pseudonym().equals(form.worker()))
                .findFirst()
                .orElseGet(() -> worker(farm, form.worker()));
    }

    private WorkerId receiver(FarmId farm, Form form) {
        WorkerId to = worker(farm, form.to());
        if (to.pseudonym().equals(form.worker())) {
            throw new NotDone("Nothing was entered: " + name(to) + " holds these ties already.");
        }
        return to;
    }

    private Strip newStrip(FarmId farm, Form form) {
        TieNumber first = tie(farm, form.first());
        TieNumber last = tie(farm, form.last());
        // What was once given out as printed tags is never given out again as something else.
        Numbering numbering = Boolean.TRUE.equals(form.printed())
                ? Numbering.CHECKED
                : index.strips().printed(farm).numberingOf(first);
        String wrong = List.of(first, last).stream()
                .filter(tie -> !numbering.has(tie))
                .map(TieNumber::digits)
                .collect(Collectors.joining(" and "));
        if (!wrong.isEmpty()) {
            throw new NotDone("Nothing was entered: the last digit of " + wrong
                    + " is not its check digit. Look at the tag again.");
        }
        if (first.compareTo(last) > 0) {
            throw new NotDone("Nothing was entered: the first number comes after the last.");
        }
        Strip strip = new Strip(first, last, numbering);
        if (strip.size() > Act.MOST) {
            throw new NotDone("Nothing was entered: a strip has at most " + Act.MOST + " ties.");
        }
        return strip;
    }

    /** Leading zeros may be left out, and spaces and dashes put in. */
    private TieNumber tie(FarmId farm, @Nullable String said) {
        int width = index.settings(farm).tieWidth();
        String digits = said == null ? "" : said.replaceAll("[\\s-]", "");
        if (!digits.matches("[0-9]{1," + width + "}")) {
            throw new NotDone("Nothing was entered: a tie number has " + width + " digits.");
        }
        return TieNumber.of(Long.parseLong(digits), width);
    }
}
