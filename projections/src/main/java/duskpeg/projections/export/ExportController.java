package duskpeg.projections.export;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.purity.Rules;
import duskpeg.core.purity.Verdict;
import duskpeg.projections.export.FruitPapers.About;
import duskpeg.projections.export.Tables.Table;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.history.FruitView;
import duskpeg.projections.history.Histories;
import duskpeg.projections.history.Verdicts;
import duskpeg.projections.history.Verdicts.VerdictView;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/**
 * Everything of a farm to take away. It is written while it is read, so that no export must fit into memory. Nothing is
 * closed where one breaks off: then the server cuts the connection, and nobody takes the part for the whole.
 */
@Controller
class ExportController {

    private static final int LAST_YEAR = 9998;
    private static final String LD = "application/ld+json";

    private final Tables tables;
    private final EventLines events;
    private final Epcis epcis;
    private final FruitPapers papers;
    private final Histories histories;
    private final Verdicts verdicts;
    private final Index index;
    private final CurrentFarm current;
    private final String publicUrl;

    ExportController(
            Tables tables,
            EventLines events,
            Epcis epcis,
            FruitPapers papers,
            Histories histories,
            Verdicts verdicts,
            Index index,
            CurrentFarm current,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        this.tables = tables;
        this.events = events;
        this.epcis = epcis;
        this.papers = papers;
        this.histories = histories;
        this.verdicts = verdicts;
        this.index = index;
        this.current = current;
        this.publicUrl = publicUrl.replaceAll("/+$", "");
    }

    @GetMapping("/export")
    String page(@RequestParam(required = false) @Nullable String farm, Model model) {
        model.addAttribute("farm", current.farm(farm).value());
        model.addAttribute("tables", tables.all());
        return "export";
    }

    /**
     * The log.
     *
     * @param from the first day, in the farm's zone, of which what was heard is wanted
     * @param to the last
     */
    @GetMapping("/api/export/events.jsonl")
    void events(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String from,
            @RequestParam(defaultValue = "") String to,
            HttpServletResponse response)
            throws IOException {
        FarmId id = current.farm(farm);
        FarmSettings settings = index.settings(id);
        LocalDate first = day(from);
        LocalDate last = day(to);
        if (first != null && last != null && last.isBefore(first)) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, "The last day is before the first.");
        }
        Writer out = begin(response, "application/jsonl", id + "-events.jsonl");
        events.write(id, begin(first, settings), begin(last == null ? null : last.plusDays(1), settings), out);
        out.flush();
    }

    private static @Nullable Instant begin(@Nullable LocalDate day, FarmSettings settings) {
        return day == null ? null : day.atStartOfDay(settings.zone()).toInstant();
    }

    /** One of the {@link Tables}. */
    @GetMapping("/api/export/{table}.csv")
    void table(
            @PathVariable String table,
            @RequestParam(required = false) @Nullable String farm,
            HttpServletResponse response)
            throws IOException {
        FarmId id = current.farm(farm);
        Table wanted = tables.all().stream()
                .filter(one -> one.name().equals(table))
                .findFirst()
                .orElseThrow(() -> new ResponseStatusException(
                        HttpStatus.NOT_FOUND, "There is no such table. The page /export lists them."));
        Writer out = begin(response, "text/csv;header=present", id + "-" + table + ".csv");
        wanted.write(id, new Csv(out));
        out.flush();
    }

    /**
     * The acts in the form of GS1 EPCIS.
     *
     * @param morning the opening morning of which they are wanted; all where it is not given
     */
    @GetMapping("/api/export/epcis.jsonld")
    void epcis(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String morning,
            HttpServletResponse response)
            throws IOException {
        FarmId id = current.farm(farm);
        LocalDate day = day(morning);
        answer(response, LD, id + "-epcis" + (day == null ? "" : "-" + day) + ".jsonld");
        epcis.farm(id, day, response.getOutputStream());
    }

    /** The history of a fruit in the form of GS1 EPCIS. */
    @GetMapping("/fruit/{tie}/epcis.json")
    void epcisOfFruit(
            @PathVariable String tie,
            @RequestParam(required = false) @Nullable String farm,
            HttpServletResponse response)
            throws IOException {
        FruitId id = fruit(farm, tie);
        FruitView view = histories.fruit(id).orElseThrow(ExportController::noReport);
        answer(response, LD, id.tie() + "-epcis.json");
        epcis.fruit(id, view, response.getOutputStream());
    }

    /**
     * The certificate of a fruit, from all that is known now and by the latest rules. There is none for a fruit whose
     * verdict is not pure: a page says so.
     */
    @GetMapping("/fruit/{tie}/certificate.pdf")
    @Nullable
    ModelAndView certificate(
            @PathVariable String tie,
            @RequestParam(required = false) @Nullable String farm,
            HttpServletResponse response)
            throws IOException {
        About about = about(fruit(farm, tie), Rules.latest(), null);
        if (!about.verdict().verdict().equals(Verdict.Kind.PURE.word())) {
            return new ModelAndView(
                    "no-certificate",
                    Map.of(
                            "tie",
                            about.fruit().tie(),
                            "verdict",
                            about.verdict().verdict()),
                    HttpStatus.CONFLICT);
        }
        pdf(response, about, "certificate", papers.certificate(about));
        return null;
    }

    /**
     * The history of a fruit.
     *
     * @param at what was heard later is left out: ISO-8601 with offset; all that is known where it is not given
     * @param rules the version of the rules; the latest where it is not given
     */
    @GetMapping("/fruit/{tie}/history.pdf")
    void history(
            @PathVariable String tie,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at,
            @RequestParam(required = false) @Nullable String rules,
            HttpServletResponse response)
            throws IOException {
        if (at != null && (at.getYear() < 1 || at.getYear() > LAST_YEAR)) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, "A year has four digits.");
        }
        About about = about(fruit(farm, tie), current.rules(rules), at == null ? null : at.toInstant());
        pdf(response, about, "history", papers.history(about));
    }

    private FruitId fruit(@Nullable String farm, String tie) {
        return current.fruit(farm, tie).orElseThrow(ExportController::noReport);
    }

    private static ResponseStatusException noReport() {
        return new ResponseStatusException(HttpStatus.NOT_FOUND, "No report of a fruit with that tie stands.");
    }

    private About about(FruitId id, Rules rules, @Nullable Instant at) {
        FruitView fruit = histories.fruit(id, at).orElseThrow(ExportController::noReport);
        VerdictView verdict = verdicts.of(id, rules, at).orElseThrow(ExportController::noReport);
        String server = publicUrl.isEmpty()
                ? ServletUriComponentsBuilder.fromCurrentContextPath().toUriString()
                : publicUrl;
        return new About(id, fruit, verdict, index.settings(id.farm()).zone().getId(), server + "/fruit/" + id.tie());
    }

    private static void pdf(HttpServletResponse response, About about, String name, byte[] pdf) throws IOException {
        answer(response, MediaType.APPLICATION_PDF_VALUE, about.fruit().tie() + "-" + name + ".pdf");
        response.setContentLength(pdf.length);
        response.getOutputStream().write(pdf);
    }

    private static Writer begin(HttpServletResponse response, String type, String name) throws IOException {
        answer(response, type + ";charset=utf-8", name);
        return new OutputStreamWriter(response.getOutputStream(), StandardCharsets.UTF_8);
    }

    private static void answer(HttpServletResponse response, String type, String name) {
        response.setContentType(type);
        response.setHeader(
                HttpHeaders.CONTENT_DISPOSITION,
                ContentDisposition.attachment()
                        .filename("duskpeg-" + name)
                        .build()
                        .toString());
    }

    /**
     * A day as it is asked for.
     *
     * @throws ResponseStatusException 400 if it is none
     */
    private static @Nullable LocalDate day(String asked) {
        if (asked.isBlank()) {
            return null;
        }
        try {
            if (asked.matches("[0-9]{4}-[0-9]{2}-[0-9]{2}")) {
                return LocalDate.parse(asked);
            }
        } catch (DateTimeException e) {
            // Said below, as of any other that is no day.
        }
        throw new ResponseStatusException(HttpStatus.BAD_REQUEST, "A day is written like 2026-11-26.");
    }
}
