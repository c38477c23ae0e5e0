package duskpeg.projections.history;

import duskpeg.core.act.Deed;
import duskpeg.core.crew.People;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Evidence;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.Lots;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.purity.Rules;
import duskpeg.core.round.RoundId;
import duskpeg.projections.Moments;
import duskpeg.projections.Qr;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.history.Verdicts.VerdictView;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** The history of a fruit as a page and as JSON. */
@Controller
class FruitController {

    private final Histories histories;
    private final Verdicts verdicts;
    private final Finder finder;
    private final People people;
    private final Index index;
    private final CurrentFarm current;

    FruitController(
            Histories histories, Verdicts verdicts, Finder finder, People people, Index index, CurrentFarm current) {
        this.histories = histories;
        this.verdicts = verdicts;
        this.finder = finder;
        this.people = people;
        this.index = index;
        this.current = current;
    }

    @GetMapping("/fruit/{tie}")
    String page(
            @PathVariable String tie,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at,
            Model model,
            HttpServletResponse response) {
        Optional<FruitId> id = current.fruit(farm, tie);
        Instant known = at == null ? null : at.toInstant();
        Optional<FruitView> fruit = id.flatMap(one -> histories.fruit(one, known));
        ZoneId zone = index.settings(current.farm(farm)).zone();
        model.addAttribute("tie", tie);
        model.addAttribute("fruit", fruit.orElse(null));
        model.addAttribute(
                "verdict",
                id.flatMap(one -> verdicts.of(one, Rules.latest(), known)).orElse(null));
        model.addAttribute("ofItsDay", at == null ? ofItsDay(id, fruit).orElse(null) : null);
        model.addAttribute("moments", Moments.of(id.map(histories::heard).orElse(List.of()), known, zone));
        model.addAttribute("at", at == null ? null : at.atZoneSameInstant(zone).toOffsetDateTime());
        model.addAttribute(
                "qr", Qr.ofPage("/fruit/" + id.map(one -> one.tie().digits()).orElse("0")));
        model.addAttribute("lots", id.map(one -> lots(one, known)).orElse(List.of()));
        model.addAttribute(
                "stock", fruit.flatMap(one -> stock(current.farm(farm), one)).orElse(null));
        model.addAttribute("sires", fruit.map(FruitController::sires).orElse(List.of()));
        if (fruit.isEmpty()) {
            response.setStatus(HttpStatus.NOT_FOUND.value());
        }
        return "fruit";
    }

    /** The lots into which it was taken, as was known then. */
    private List<String> lots(FruitId fruit, @Nullable Instant known) {
        Lots all = index.lots(fruit.farm());
        return all.takenInto(fruit).stream()
                .flatMap(id -> all.lot(id).stream())
                .filter(lot -> lot.all(LotEvent.FruitTaken.class).stream()
                        .filter(taken -> known == null || !taken.at().isAfter(known))
                        .flatMap(taken -> taken.fruit().stream())
                        .anyMatch(taken -> taken.fruit().equals(fruit)))
                .map(lot -> lot.id().name())
                .sorted()
                .toList();
    }

    /** What its row was sown with. */
    private Optional<String> stock(FarmId farm, FruitView fruit) {
        return Optional.ofNullable(fruit.row())
                .flatMap(row -> index.rows(farm).plantingOf(new RowId(farm, row)))
                .map(Planting::stock);
    }

    /** The plants whose males were said to be used for this very fruit. */
    private static List<String> sires(FruitView fruit) {
        return fruit.acts().stream()
                .filter(act -> act.grade().equals(Evidence.Grade.FRUIT.word())
                        && act.act().equals(Deed.POLLINATED.word()))
                .flatMap(act -> Stream.ofNullable(act.sires()).flatMap(List::stream))
                .distinct()
                .toList();
    }

    /**
     * The verdict by the rules of its day, where other rules hold today.
     *
     * @param verdict by those rules
     * @param differs the rules that found something else then, or were not there
     */
    record OfItsDay(VerdictView verdict, List<String> differs) {}

    private Optional<OfItsDay> ofItsDay(Optional<FruitId> id, Optional<FruitView> fruit) {
        Optional<Rules> then =
                fruit.map(FruitView::morning).map(Rules::on).filter(rules -> !rules.equals(Rules.latest()));
        return then.flatMap(rules -> id.flatMap(one -> verdicts.of(one, rules, null)))
                .flatMap(was -> verdicts.of(id.orElseThrow(), Rules.latest(), null)
                        .map(is -> new OfItsDay(was, differs(was, is))));
    }

    private static List<String> differs(VerdictView was, VerdictView is) {
        Map<String, String> found = was.evidence().stream()
                .collect(Collectors.toMap(Verdicts.FindingView::rule, Verdicts.FindingView::result));
        return is.evidence().stream()
                .filter(one -> !one.result().equals(found.get(one.rule())))
                .map(one -> one.rule().replace('-', ' ') + ": "
                        + found.getOrDefault(one.rule(), "not asked").replace('-', ' ') + " then, "
                        + one.result().replace('-', ' ') + " now")
                .toList();
    }

    /** A row's night and morning. */
    @GetMapping("/row/{row}/{morning}")
    String night(
            @PathVariable String row,
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate morning,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at,
            Model model,
            HttpServletResponse response) {
        Optional<RoundId> id = round(farm, row, morning);
        Instant known = at == null ? null : at.toInstant();
        Optional<NightView> night = id.flatMap(one -> histories.night(one, known));
        ZoneId zone = index.settings(current.farm(farm)).zone();
        model.addAttribute("row", row);
        model.addAttribute("morning", morning);
        model.addAttribute("night", night.orElse(null));
        model.addAttribute(
                "verdicts",
                night.map(NightView::ties)
                        .map(ties -> verdicts(current.farm(farm), ties, known))
                        .orElse(Map.of()));
        model.addAttribute("qr", Qr.ofPage("/row/" + row + "/" + morning));
        model.addAttribute("moments", Moments.of(id.map(histories::heard).orElse(List.of()), known, zone));
        model.addAttribute("at", at == null ? null : at.atZoneSameInstant(zone).toOffsetDateTime());
        if (night.isEmpty()) {
            response.setStatus(HttpStatus.NOT_FOUND.value());
        }
        return "night";
    }

    /** By tie, the verdict in words. */
    private Map<String, String> verdicts(FarmId farm, List<String> ties, @Nullable Instant known) {
        Map<String, String> words = new HashMap<>();
        verdicts.judged(
                        farm,
                        ties.stream()
                                .map(tie -> new FruitId(farm, new TieNumber(tie)))
                                .toList(),
                        Rules.latest(),
                        known)
                .forEach((fruit, judged) -> words.put(
                        fruit.tie().digits(), judged.verdict().kind().word().replace('-', ' ')));
        return words;
    }

    @GetMapping("/api/row/{row}/{morning}")
    @ResponseBody
    NightView night(
            @PathVariable String row,
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate morning,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at) {
        return round(farm, row, morning)
                .flatMap(id -> histories.night(id, at == null ? null : at.toInstant()))
                .orElseThrow(() -> new ResponseStatusException(
                        HttpStatus.NOT_FOUND, "Nothing was reported of row " + row + " for that morning."));
    }

    private Optional<RoundId> round(@Nullable String farm, String row, LocalDate morning) {
        FarmId id = current.farm(farm);
        return row.matches("[1-9][0-9]{0,2}")
                ? Optional.of(new RoundId(new RowId(id, row), morning))
                : Optional.empty();
    }

    /** Where the search box of a page leads. */
    @GetMapping("/fruit")
    String search(@RequestParam(defaultValue = "") String tie) {
        String digits = tie.replaceAll("[^0-9]", "");
        return "redirect:/fruit/" + (digits.isEmpty() ? "0" : digits);
    }

    /**
     * Fruit by whatever is known of it; what is left out makes no difference.
     *
     * @param row the row it was tied in
     * @param morning the morning it was tied
     * @param worker who tied it, by pseudonym
     * @param cultivar the cultivar of its row
     */
    @GetMapping("/api/fruit")
    @ResponseBody
    Finder.Found found(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String row,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(defaultValue = "") String worker,
            @RequestParam(defaultValue = "") String cultivar) {
        return finder.find(current.farm(farm), new Finder.Sought(row.strip(), morning, worker, cultivar));
    }

    @GetMapping("/find")
    String find(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String row,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(defaultValue = "") String worker,
            @RequestParam(defaultValue = "") String cultivar,
            Model model) {
        FarmId id = current.farm(farm);
        Finder.Sought sought = new Finder.Sought(row.strip(), morning, worker, cultivar);
        model.addAttribute("sought", sought);
        model.addAttribute("found", sought.isNothing() ? null : finder.find(id, sought));
        model.addAttribute("farm", id.value());
        model.addAttribute("crew", people.all(id));
        model.addAttribute(
                "cultivars",
                index.plantings(id).stream().map(Planting::cultivar).distinct().toList());
        return "find";
    }

    @GetMapping("/api/fruit/{tie}")
    @ResponseBody
    FruitView api(@PathVariable String tie, @RequestParam(required = false) @Nullable String farm) {
        return find(farm, tie).orElseThrow(() -> noReport(tie));
    }

    /**
     * The verdict on a fruit.
     *
     * @param at what was heard later is left out: ISO-8601 with offset; all that is known where it is not given
     * @param rules the version of the rules; the latest where it is not given
     */
    @GetMapping("/api/fruit/{tie}/verdict")
    @ResponseBody
    VerdictView verdict(
            @PathVariable String tie,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at,
            @RequestParam(required = false) @Nullable String rules) {
        Rules by = current.rules(rules);
        return current.fruit(farm, tie)
                .flatMap(id -> verdicts.of(id, by, at == null ? null : at.toInstant()))
                .orElseThrow(() -> noReport(tie));
    }

    private static ResponseStatusException noReport(String tie) {
        return new ResponseStatusException(
                HttpStatus.NOT_FOUND, "No report of a fruit with tie " + tie + " stands on this farm.");
    }

    private Optional<FruitView> find(@Nullable String farm, String tie) {
        return current.fruit(farm, tie).flatMap(histories::fruit);
    }
}
