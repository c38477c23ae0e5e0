package duskpeg.projections.ledger;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.farm.CurrentFarm;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.server.ResponseStatusException;

/** The ledger for whoever wants to check it. */
@RestController
class LedgerController {

    private final Ledger ledger;
    private final CurrentFarm current;

    LedgerController(Ledger ledger, CurrentFarm current) {
        this.ledger = ledger;
        this.current = current;
    }

    /**
     * An event proved.
     *
     * @param event the event in canonical JSON, as a text: its bytes are the leaf
     * @param index which leaf it is, from 0
     * @param proof the inclusion proof, in Base64
     * @param checkpoint the signed checkpoint it is proved against
     */
    record ProvedView(String event, long index, List<String> proof, String checkpoint) {}

    /** A consistency proof, in Base64. */
    record ConsistencyView(long from, long to, List<String> proof) {}

    /** The keys that sign, a line for each. */
    @GetMapping("/api/ledger/key")
    ResponseEntity<String> key(@RequestParam(required = false) @Nullable String farm) {
        return text(ledger.keys(current.farm(farm)).stream()
                .map(VerifierKey::toString)
                .collect(Collectors.joining("\n", "", "\n")));
    }

    /** The latest checkpoint, signed. */
    @GetMapping("/api/ledger/checkpoint")
    ResponseEntity<String> checkpoint(@RequestParam(required = false) @Nullable String farm) {
        return text(ledger.checkpoint(current.farm(farm)).toString());
    }

    private static ResponseEntity<String> text(String text) {
        return ResponseEntity.ok()
                .contentType(new MediaType(MediaType.TEXT_PLAIN, StandardCharsets.UTF_8))
                .body(text);
    }

    @GetMapping("/api/ledger/event/{id}")
    ProvedView event(@PathVariable String id, @RequestParam(required = false) @Nullable String farm) {
        FarmId of = current.farm(farm);
        Note checkpoint = ledger.checkpoint(of);
        return ledger.prove(of, id, checkpoint)
                .map(proved ->
                        new ProvedView(proved.text(), proved.leaf(), base64(proved.proof()), checkpoint.toString()))
                .orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND, "no such event in the ledger"));
    }

    @GetMapping("/api/ledger/consistency")
    ConsistencyView consistency(
            @RequestParam long from, @RequestParam long to, @RequestParam(required = false) @Nullable String farm) {
        try {
            return new ConsistencyView(from, to, base64(ledger.consistency(current.farm(farm), from, to)));
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, e.getMessage(), e);
        }
    }

    private static List<String> base64(List<Hash> proof) {
        return proof.stream().map(Hash::base64).toList();
    }
}
