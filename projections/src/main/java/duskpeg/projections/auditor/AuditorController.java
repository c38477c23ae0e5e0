package duskpeg.projections.auditor;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.lot.LotId;
import duskpeg.core.purity.Rules;
import duskpeg.projections.audit.Audits;
import duskpeg.projections.auditor.Asked.What;
import duskpeg.projections.auditor.Link.Outcome;
import duskpeg.projections.ledger.Ledger;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/**
 * What an auditor sees by a link. Every look by a link that was ever made is noted before anything is shown; a token
 * that is none is answered alike whatever stands behind it, and not noted: anybody could fill the list.
 */
@Controller
class AuditorController {

    private final Links links;
    private final AuditorBook book;
    private final Audits audits;
    private final Ledger ledger;
    private final Index index;
    private final Clock clock;

    AuditorController(Links links, AuditorBook book, Audits audits, Ledger ledger, Index index, Clock clock) {
        this.links = links;
        this.book = book;
        this.audits = audits;
        this.ledger = ledger;
        this.index = index;
        this.clock = clock;
    }

    /**
     * Answers whatever is asked for by a token.
     *
     * @param path what stands behind the token; empty, or begins with a slash
     * @param since for a bundle, the size of a tree that the auditor has a checkpoint of
     */
    @GetMapping("/auditor/{token}/{*path}")
    Object look(
            @PathVariable String token,
            @PathVariable String path,
            @RequestParam(required = false) @Nullable String since,
            HttpServletResponse response)
            throws IOException {
        response.setHeader("Referrer-Policy", "no-referrer");
        response.setHeader("X-Robots-Tag", "noindex, nofollow");
        response.setHeader(HttpHeaders.CACHE_CONTROL, "no-store");
        Link link = links.find(token).orElse(null);
        if (link == null) {
            return closed(HttpStatus.NOT_FOUND);
        }
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Outcome outcome = link.at(now);
        if (outcome != Outcome.SHOWN) {
            links.note(link, now, path, outcome);
            return closed(HttpStatus.GONE);
        }
        Reach reach = book.reach(link);
        Asked asked = Asked.read(path)
                .filter(one -> isWithin(link.farm(), reach, one))
                .orElse(null);
        if (asked == null) {
            links.note(link, now, path, Outcome.OUTSIDE);
            return closed(HttpStatus.NOT_FOUND);
        }
        links.note(link, now, path, Outcome.SHOWN);
        return show(link, token, reach, asked, since).orElseGet(() -> closed(HttpStatus.NOT_FOUND));
    }

    private static Object closed(HttpStatus status) {
        return new ModelAndView("auditor-closed", Map.of("gone", status == HttpStatus.GONE), status);
    }

    private boolean isWithin(FarmId farm, Reach reach, Asked asked) {
        return switch (asked.what()) {
            case START, CHECKPOINT -> true;
            case FRUIT, FRUIT_BUNDLE ->
                book.fruit(farm, asked.name()).filter(reach.fruit()::contains).isPresent();
            case LOT, LOT_BUNDLE ->
                reach.lots().stream().anyMatch(lot -> lot.name().equals(asked.name()));
        };
    }

    private Optional<Object> show(Link link, String token, Reach reach, Asked asked, @Nullable String since)
            throws IOException {
        FarmId farm = link.farm();
        ModelAndView page = new ModelAndView("auditor")
                .addObject("base", "/auditor/" + token)
                .addObject("scope", link.scope().word())
                .addObject("about", link.about())
                .addObject("start", asked.what() == What.START)
                .addObject(
                        "expires",
                        link.expires().atZone(index.settings(farm).zone()).toOffsetDateTime());
        return switch (asked.what()) {
            case START ->
                switch (link.scope()) {
                    case FRUIT -> fruit(page, farm, link.about());
                    case LOT -> lot(page, new LotId(farm, link.about()));
                    case SEASON ->
                        Optional.of(page.addObject("lots", book.lines(reach, farm))
                                .addObject("fruits", reach.fruit().size()));
                };
            case FRUIT -> fruit(page, farm, asked.name());
            case LOT -> lot(page, new LotId(farm, asked.name()));
            case CHECKPOINT ->
                Optional.of(ResponseEntity.ok()
                        .contentType(new MediaType(MediaType.TEXT_PLAIN, StandardCharsets.UTF_8))
                        .body(ledger.checkpoint(farm).toString()));
            case FRUIT_BUNDLE -> bundle(book.fruit(farm, asked.name()).stream().toList(), asked.name(), since);
            case LOT_BUNDLE -> bundle(book.flowers(new LotId(farm, asked.name())), asked.name(), since);
        };
    }

    private Optional<Object> fruit(ModelAndView page, FarmId farm, String digits) {
        return book.fruit(farm, digits).flatMap(book::view).map(view -> page.addObject("fruit", view));
    }

    private Optional<Object> lot(ModelAndView page, LotId lot) {
        return book.view(lot).map(view -> page.addObject("lot", view));
    }

    private Optional<Object> bundle(List<FruitId> fruit, String name, @Nullable String since) throws IOException {
        if (fruit.isEmpty()) {
            return Optional.empty();
        }
        try {
            return audits.bundle(fruit, Rules.latest(), since == null ? null : Long.valueOf(since), false)
                    .map(bundle -> bundle.named(name));
        } catch (IllegalArgumentException e) {
            return Optional.of(ResponseEntity.badRequest()
                    .contentType(MediaType.TEXT_PLAIN)
                    .body("There was no tree of that size."));
        }
    }
}
