package duskpeg.projections.lots;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.csv.Import;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.lot.Admission;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotEvent.Decision;
import duskpeg.core.lot.LotEvent.Step;
import duskpeg.core.lot.LotEvent.Taken;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.projections.Moments;
import duskpeg.projections.Office;
import duskpeg.projections.Qr;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** Lots as pages and as JSON; what becomes of them is entered here. */
@Controller
class LotsController {

    private final LotBook book;
    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final Office office;
    private final Clock clock;

    LotsController(LotBook book, CurrentFarm current, Index index, People people, Office office, Clock clock) {
        this.book = book;
        this.current = current;
        this.index = index;
        this.people = people;
        this.office = office;
        this.clock = clock;
    }

    @GetMapping("/api/lots")
    @ResponseBody
    List<LotView.Line> lots(@RequestParam(required = false) @Nullable String farm) {
        return book.all(current.farm(farm));
    }

    @GetMapping("/api/lot/{lot}")
    @ResponseBody
    LotView lot(
            @PathVariable String lot,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at) {
        return id(farm, lot)
                .flatMap(id -> book.lot(id, at == null ? null : at.toInstant()))
                .orElseThrow(() -> noLot(lot));
    }

    /**
     * From a fruit to its packets, or from a packet or lot to its flowers and to all packets with seed of them.
     *
     * @param tie a tie number
     * @param packet a packet, as on it: lot, point, number
     * @param lot a lot
     */
    @GetMapping("/api/trace")
    @ResponseBody
    TraceView api(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String tie,
            @RequestParam(defaultValue = "") String packet,
            @RequestParam(defaultValue = "") String lot) {
        return trace(farm, tie.strip(), packet.strip(), lot.strip())
                .orElseThrow(() -> new ResponseStatusException(
                        HttpStatus.NOT_FOUND, "Nothing was found: give a tie, a packet as in GC9-26.12, or a lot."));
    }

    private Optional<TraceView> trace(@Nullable String farm, String tie, String packet, String lot) {
        FarmId id = current.farm(farm);
        if (tie.matches("[0-9]{1,9}")) {
            int width = index.settings(id).tieWidth();
            return tie.length() > width
                    ? Optional.empty()
                    : Optional.of(book.forward(new FruitId(id, TieNumber.of(Long.parseLong(tie), width))));
        }
        if (packet.matches("[A-Za-z0-9-]{1,20}\\.[0-9]{1,6}")) {
            int point = packet.indexOf('.');
            int number = Integer.parseInt(packet.substring(point + 1));
            return id(farm, packet.substring(0, point)).flatMap(one -> book.back(one, number));
        }
        return id(farm, lot).flatMap(one -> book.back(one, "lot " + one.name()));
    }

    @GetMapping("/trace")
    String trace(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String of,
            Model model,
            HttpServletResponse response) {
        String sought = of.strip();
        Optional<TraceView> trace = trace(farm, sought, sought, sought);
        model.addAttribute("of", sought);
        model.addAttribute("trace", trace.orElse(null));
        if (trace.isEmpty() && !sought.isEmpty()) {
            response.setStatus(HttpStatus.NOT_FOUND.value());
        }
        return "trace";
    }

    @GetMapping("/lots")
    String page(@RequestParam(required = false) @Nullable String farm, Model model) {
        return all(current.farm(farm), Map.of(), model);
    }

    private String all(FarmId farm, Map<String, String> form, Model model) {
        model.addAttribute("farm", farm.value());
        model.addAttribute("lots", book.all(farm));
        model.addAttribute(
                "cultivars",
                index.plantings(farm).stream()
                        .map(Planting::cultivar)
                        .distinct()
                        .toList());
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        return "lots";
    }

    @GetMapping("/lot/{lot}")
    String page(
            @PathVariable String lot,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at,
            Model model,
            HttpServletResponse response) {
        Instant known = at == null ? null : at.toInstant();
        return id(farm, lot)
                .filter(id -> book.lot(id, known).isPresent())
                .map(id -> page(id, known, Map.of(), model))
                .orElseGet(() -> {
                    response.setStatus(HttpStatus.NOT_FOUND.value());
                    return page(farm, model);
                });
    }

    private String page(LotId id, @Nullable Instant at, Map<String, String> form, Model model) {
        LotView view = book.lot(id, at).orElseThrow(() -> noLot(id.name()));
        ZoneId zone = index.settings(id.farm()).zone();
        model.addAttribute("at", at == null ? null : at.atZone(zone).toOffsetDateTime());
        model.addAttribute("moments", Moments.of(book.entered(id), at, zone));
        model.addAttribute("lot", view);
        model.addAttribute("qr", Qr.ofPage("/lot/" + id.name()));
        model.addAttribute("waits", view.cultivar() == null ? List.of() : book.waiting(id.farm(), view.cultivar()));
        model.addAttribute("today", today(id.farm()));
        model.addAttribute("supervisors", people.those(index.workers(id.farm(), Role.SUPERVISOR)));
        model.addAttribute("crew", people.all(id.farm()));
        model.addAttribute("steps", List.of(Step.values()));
        model.addAttribute("form", form);
        return "lot";
    }

    /** Begins a lot. */
    @PostMapping("/lots")
    String begin(@RequestParam Map<String, String> fields, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(fields.get("farm"));
        LotForm form = new LotForm(fields);
        try {
            String name = form.text("lot").toUpperCase(Locale.ROOT);
            if (!LotId.isName(name)) {
                throw new IllegalArgumentException(
                        "a lot's name is 1 to 20 letters, digits and hyphens, and begins with a letter or a digit");
            }
            LotId lot = new LotId(farm, name);
            if (index.lots(farm).lot(lot).isPresent()) {
                throw new IllegalArgumentException("there is a lot " + name + " already");
            }
            String cultivar = form.text("cultivar");
            Species species = index.plantings(farm).stream()
                    .filter(planting -> planting.cultivar().equals(cultivar))
                    .map(Planting::species)
                    .findFirst()
                    .orElseThrow(() -> new IllegalArgumentException("choose the cultivar"));
            office.enter(List.of(
                    new LotEvent.Begun(lot, cultivar, species, office.by(farm, form.text("by")), office.now())));
            return to(lot);
        } catch (IllegalArgumentException e) {
            Office.refused(e, model, response);
            return all(farm, fields, model);
        }
    }

    /** Weights of several lots; all of the text or nothing of it. */
    @PostMapping("/lots/weights")
    String weights(@RequestParam Map<String, String> fields, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(fields.get("farm"));
        boolean entered = office.enters(farm, fields, model, response, by -> {
            Import<LotEvent.Weighed> read =
                    Weights.read(fields.getOrDefault("csv", ""), index.lots(farm), today(farm), by, office.now());
            if (read instanceof Import.Refused<LotEvent.Weighed> refused) {
                model.addAttribute("problems", refused.problems());
                throw new IllegalArgumentException("these lines can't be taken, so none was");
            }
            List<LotEvent.Weighed> weights = ((Import.Taken<LotEvent.Weighed>) read).rows();
            if (weights.isEmpty()) {
                throw new IllegalArgumentException("there is no weight in it");
            }
            return weights;
        });
        return entered ? "redirect:/lots?farm=" + farm.value() : all(farm, fields, model);
    }

    /** Enters what became of a lot. */
    @PostMapping("/lot/{lot}/{what}")
    String enter(
            @PathVariable String lot,
            @PathVariable String what,
            @RequestParam Map<String, String> fields,
            Model model,
            HttpServletResponse response) {
        LotId id = id(fields.get("farm"), lot)
                .filter(one -> index.lots(one.farm()).lot(one).isPresent())
                .orElseThrow(() -> noLot(lot));
        try {
            office.enter(List.of(event(id, what, new LotForm(fields))));
            return to(id);
        } catch (IllegalArgumentException e) {
            Office.refused(e, model, response);
            return page(id, null, fields, model);
        }
    }

    private LotEvent event(LotId lot, String what, LotForm form) {
        WorkerId by = office.by(lot.farm(), form.text("by"));
        Instant at = office.now();
        return switch (what) {
            case "take" -> new LotEvent.FruitTaken(lot, take(lot, form), by, at);
            case "work" -> work(lot, form, by, at);
            case "weigh" ->
                new LotEvent.Weighed(lot, day(lot, form), form.grams("grams"), form.percent("moisture"), by, at);
            case "lose" -> new LotEvent.Lost(lot, day(lot, form), form.grams("grams"), reason(form), by, at);
            case "seeds" -> new LotEvent.SeedWeighed(lot, day(lot, form), form.grams("grams"), by, at);
            case "draw" -> new LotEvent.Drawn(lot, drawnInto(lot, form), day(lot, form), form.grams("grams"), by, at);
            case "pack" -> pack(lot, form, by, at);
            case "germinate" -> germinate(lot, form, by, at);
            case "grow" -> grow(lot, form, by, at);
            case "decide" -> decide(lot, form, by, at);
            case "withdraw" ->
                new LotEvent.Withdrawn(
                        lot,
                        form.whole(
                                "entry",
                                "entry",
                                1,
                                index.lots(lot.farm())
                                        .lot(lot)
                                        .map(Lot::entries)
                                        .orElse(List.of())
                                        .size()),
                        reason(form),
                        by,
                        at);
            default -> throw new ResponseStatusException(HttpStatus.NOT_FOUND, "Nothing of that kind is entered.");
        };
    }

    private static String reason(LotForm form) {
        String why = form.text("why");
        if (why.isEmpty()) {
            throw new IllegalArgumentException("say why");
        }
        return why;
    }

    /** A fruit that should not go in is refused with the reason, unless it is ticked that it is in there all the same. */
    private List<Taken> take(LotId id, LotForm form) {
        int width = index.settings(id.farm()).tieWidth();
        Lots lots = index.lots(id.farm());
        Lot lot = lots.lot(id).orElseThrow(() -> noLot(id.name()));
        List<FruitId> fruit = new ArrayList<>();
        for (long tie : form.ties("ties")) {
            if (String.valueOf(tie).length() > width) {
                throw new IllegalArgumentException(tie + " is no tie number of this farm");
            }
            fruit.add(new FruitId(id.farm(), TieNumber.of(tie, width)));
        }
        List<Taken> taken = book.taken(fruit, lot, lots);
        List<Taken> refused =
                taken.stream().filter(one -> !one.although().isEmpty()).toList();
        if (!refused.isEmpty() && !form.ticked("although")) {
            Taken first = refused.get(0);
            throw new IllegalArgumentException(refused.size() + " of " + taken.size() + " should not go in, tie "
                    + first.fruit().tie().digits() + " first: "
                    + String.join(" ", first.although()).replaceFirst("\\.$", ""));
        }
        return taken;
    }

    private LotEvent work(LotId lot, LotForm form, WorkerId by, Instant at) {
        LocalDate from = form.date("from", "when it began");
        LocalDate until = Optional.ofNullable(form.dateIfSaid("until")).orElse(from);
        if (until.isBefore(from)) {
            throw new IllegalArgumentException("it ends before it begins");
        }
        return new LotEvent.Worked(
                lot, form.oneOf("step", Step.values(), "what was done"), from, until, form.text("place"), by, at);
    }

    /** Into a lot that it does not go with only where that is ticked; releasing that lot is then asked about for good. */
    private LotId drawnInto(LotId lot, LotForm form) {
        String name = form.text("to").toUpperCase(Locale.ROOT);
        LotId to = LotId.isName(name) ? new LotId(lot.farm(), name) : lot;
        Lots lots = index.lots(lot.farm());
        Lot into = lots.lot(to)
                .filter(other -> !other.id().equals(lot))
                .orElseThrow(() -> new IllegalArgumentException("choose another lot that was begun"));
        List<String> against = Admission.against(lots.lot(lot).orElseThrow(() -> noLot(lot.name())), into, lots);
        if (!against.isEmpty() && !form.ticked("although")) {
            throw new IllegalArgumentException(
                    "this stands against it: " + String.join(" ", against).replaceFirst("\\.$", ""));
        }
        return to;
    }

    private LotEvent pack(LotId lot, LotForm form, WorkerId by, Instant at) {
        int first = form.whole("first", "first packet's number", 1, 999_999);
        int last = form.whole("last", "last packet's number", first, 999_999);
        return new LotEvent.Packed(lot, day(lot, form), first, last, form.grams("grams"), by, at);
    }

    private static LotEvent germinate(LotId lot, LotForm form, WorkerId by, Instant at) {
        LocalDate sown = form.date("sown", "when it was set");
        LocalDate first = form.date("firstCount", "when the first count was");
        LocalDate last = form.date("finalCount", "when the final count was");
        if (first.isBefore(sown) || last.isBefore(first)) {
            throw new IllegalArgumentException("the counts come after it was set, the first before the final one");
        }
        return new LotEvent.Germinated(
                lot,
                form.whole("test", "test's number", 1, 999),
                sown,
                first,
                last,
                form.replicates("replicates"),
                by,
                at);
    }

    private LotEvent grow(LotId lot, LotForm form, WorkerId by, Instant at) {
        int plants = form.whole("plants", "number of plants", 1, 1_000_000);
        return new LotEvent.GrownOut(
                lot,
                form.whole("test", "test's number", 1, 999),
                day(lot, form),
                plants,
                form.whole("offTypes", "number of off-types", 0, plants),
                form.text("fruit").isEmpty()
                        ? null
                        : Integer.valueOf(form.whole("fruit", "number of fruit", 1, plants)),
                by,
                at);
    }

    private LotEvent decide(LotId lot, LotForm form, WorkerId by, Instant at) {
        Decision decision = form.oneOf("decision", Decision.values(), "what is decided");
        List<String> against = decision == Decision.RELEASED ? book.against(lot) : List.of();
        if (!against.isEmpty() && !form.ticked("although")) {
            throw new IllegalArgumentException(
                    "this stands against it: " + against.get(0).replaceFirst("\\.$", ""));
        }
        String why = form.text("why");
        if (why.isEmpty() && (decision != Decision.RELEASED || !against.isEmpty())) {
            throw new IllegalArgumentException("say why");
        }
        return new LotEvent.Decided(lot, decision, why, against, form.dateIfSaid("until"), by, at);
    }

    private LocalDate day(LotId lot, LotForm form) {
        return Optional.ofNullable(form.dateIfSaid("on")).orElseGet(() -> today(lot.farm()));
    }

    private LocalDate today(FarmId farm) {
        return index.settings(farm).dateAt(clock.instant());
    }

    private static String to(LotId lot) {
        return "redirect:/lot/" + lot.name() + "?farm=" + lot.farm().value();
    }

    private Optional<LotId> id(@Nullable String farm, String lot) {
        String name = lot.toUpperCase(Locale.ROOT);
        return LotId.isName(name) ? Optional.of(new LotId(current.farm(farm), name)) : Optional.empty();
    }

    private static ResponseStatusException noLot(String lot) {
        return new ResponseStatusException(HttpStatus.NOT_FOUND, "There is no lot " + lot + " on this farm.");
    }
}
