package duskpeg.projections.witness;

import duskpeg.core.ledger.AddCheckpoint;
import duskpeg.core.ledger.Witness;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Collection;
import java.util.stream.Collectors;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/** Where other logs bring their checkpoints (C2SP tlog-witness); 404 unless the settings name any. */
@RestController
class WitnessController {

    /** A checkpoint with 16 signatures of the longest kind in use, and a proof, have less. */
    private static final int MOST_BYTES = 1 << 17;

    private static final MediaType TEXT = new MediaType(MediaType.TEXT_PLAIN, StandardCharsets.UTF_8);
    private static final MediaType SIZE = new MediaType("text", "x.tlog.size");

    private final Witnessed witnessed;

    WitnessController(Witnessed witnessed) {
        this.witnessed = witnessed;
    }

    /** The keys that cosign, a line for each: what a log's operator enters in her settings. */
    @GetMapping("/witness/key")
    ResponseEntity<String> key() {
        return witnessed.isWitness()
                ? answer(HttpStatus.OK.value(), TEXT, lines(witnessed.keys()))
                : answer(HttpStatus.NOT_FOUND.value(), TEXT, "no witness\n");
    }

    /**
     * Takes a checkpoint. The body is read as it came, whatever type it says it is of.
     *
     * @throws IOException if the sender goes away
     */
    @PostMapping("/witness/add-checkpoint")
    ResponseEntity<String> add(HttpServletRequest request) throws IOException {
        byte[] body = request.getInputStream().readNBytes(MOST_BYTES + 1);
        if (!witnessed.isWitness()) {
            return answer(Witness.Answer.UNKNOWN.status(), TEXT, "no witness\n");
        }
        if (body.length > MOST_BYTES) {
            return answer(HttpStatus.PAYLOAD_TOO_LARGE.value(), TEXT, "too long\n");
        }
        AddCheckpoint asked;
        try {
            asked = AddCheckpoint.parse(new String(body, StandardCharsets.UTF_8));
        } catch (IllegalArgumentException e) {
            return answer(HttpStatus.BAD_REQUEST.value(), TEXT, "not a request to add a checkpoint\n");
        }
        Witnessed.Said said = witnessed.add(asked);
        int status = said.answer().status();
        return switch (said.answer()) {
            case COSIGN -> answer(status, TEXT, lines(said.cosignatures()));
            case CONFLICT -> answer(status, SIZE, said.size() + "\n");
            case BACKWARDS -> answer(status, TEXT, "the old size is above the checkpoint's\n");
            case UNSIGNED -> answer(status, TEXT, "not signed with a key of that log\n");
            case UNKNOWN -> answer(status, TEXT, "no such log\n");
            case UNPROVED -> answer(status, TEXT, "the proof does not lead from the old tree to the new one\n");
        };
    }

    private static String lines(Collection<?> some) {
        return some.stream().map(one -> one + "\n").collect(Collectors.joining());
    }

    private static ResponseEntity<String> answer(int status, MediaType type, String body) {
        return ResponseEntity.status(status).contentType(type).body(body);
    }
}
