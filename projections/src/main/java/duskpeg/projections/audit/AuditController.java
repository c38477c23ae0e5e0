package duskpeg.projections.audit;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.lot.LotId;
import duskpeg.core.planting.RowId;
import duskpeg.core.purity.Rules;
import duskpeg.core.round.RoundId;
import duskpeg.projections.farm.CurrentFarm;
import java.io.IOException;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.server.ResponseStatusException;

/** Bundles for auditors to download. */
@RestController
class AuditController {

    private final Audits audits;
    private final Index index;
    private final CurrentFarm current;

    AuditController(Audits audits, Index index, CurrentFarm current) {
        this.audits = audits;
        this.index = index;
        this.current = current;
    }

    /**
     * A bundle: of one fruit by its tie, of all fruit of a row's morning, or of all fruit that seed of a lot may be of.
     *
     * @param since the size of a tree that an auditor has a checkpoint of
     * @param whole whether all of the farm's log is wanted
     * @param rules the version of the rules; the latest where it is not given
     */
    @GetMapping("/api/audit/bundle")
    ResponseEntity<Made> bundle(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @Nullable String tie,
            @RequestParam(required = false) @Nullable String row,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String lot,
            @RequestParam(required = false) @Nullable Long since,
            @RequestParam(defaultValue = "false") boolean whole,
            @RequestParam(required = false) @Nullable String rules)
            throws IOException {
        FarmId id = current.farm(farm);
        LotId ofLot = null;
        List<FruitId> fruit = List.of();
        String name;
        try {
            if (tie != null) {
                FruitId one = new FruitId(
                        id, TieNumber.of(Long.parseLong(tie), index.settings(id).tieWidth()));
                fruit = List.of(one);
                name = one.tie().digits();
            } else if (row != null && morning != null) {
                fruit = audits.fruit(new RoundId(new RowId(id, row), morning));
                name = "row-" + row + "-" + morning;
            } else if (lot != null) {
                ofLot = new LotId(id, lot.strip().toUpperCase(Locale.ROOT));
                name = "lot-" + ofLot.name();
            } else {
                throw new IllegalArgumentException("a tie, a row and a morning, or a lot");
            }
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(
                    HttpStatus.BAD_REQUEST, "Ask by tie=4711, by row=12 and morning=2026-11-26, or by lot=GC9-26.", e);
        }
        Rules by = current.rules(rules);
        try {
            Optional<Made> made = ofLot != null
                    ? audits.bundle(ofLot, by, since, whole)
                    : fruit.isEmpty() ? Optional.empty() : audits.bundle(fruit, by, since, whole);
            return made.orElseThrow(() ->
                            new ResponseStatusException(HttpStatus.NOT_FOUND, "Nothing in the log names such a fruit."))
                    .named(name);
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, e.getMessage(), e);
        }
    }
}
