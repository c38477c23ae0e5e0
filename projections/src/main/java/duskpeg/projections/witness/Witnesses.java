package duskpeg.projections.witness;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.AddCheckpoint;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.ledger.Cosignatures;
import duskpeg.projections.ledger.Ledger;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/** Whom the checkpoints of the farms are shown to (C2SP tlog-witness, the log's side). */
@Component
public class Witnesses {

    private static final Logger LOG = LoggerFactory.getLogger(Witnesses.class);

    private static final Duration ANSWER = Duration.ofSeconds(10);
    private static final long MOST_BYTES = 1L << 17;
    private static final int OK = 200;
    private static final int CONFLICT = 409;

    private final Ledger ledger;
    private final Cosignatures cosignatures;
    private final ObjectProvider<HttpClient> http;
    private final List<One> all;

    /**
     * One witness.
     *
     * @param address where checkpoints are added
     * @param key what he cosigns with
     */
    private record One(URI address, VerifierKey key) {

        /** Reads the address before {@code /add-checkpoint}, a space, and the key. */
        static One parse(String entry) {
            String[] part = entry.split("\\s+", -1);
            if (part.length != 2 || !part[0].matches("https?://.+")) {
                throw new IllegalArgumentException("not the address and the key of a witness: " + entry);
            }
            return new One(
                    URI.create((part[0].endsWith("/") ? part[0] : part[0] + "/") + "add-checkpoint"),
                    VerifierKey.parse(part[1], VerifierKey.Kind.COSIGNATURE));
        }

        @Override
        public String toString() {
            return key.name();
        }
    }

    /**
     * @param witnesses their addresses and keys
     * @throws IllegalArgumentException if one of them has another form
     */
    Witnesses(
            Ledger ledger,
            Cosignatures cosignatures,
            ObjectProvider<HttpClient> http,
            @Value("${duskpeg.witnesses}") String witnesses) {
        this.ledger = ledger;
        this.cosignatures = cosignatures;
        this.http = http;
        this.all = Listed.entries(witnesses).stream().map(One::parse).toList();
    }

    /**
     * Shows the newest checkpoint of a farm to every witness who has not cosigned it, and keeps what they give. Takes up
     * to 20 s for each. What fails is logged, and tried again the next time; nothing is thrown.
     *
     * @param at when
     */
    public void publish(FarmId farm, Instant at) {
        for (One witness : all) {
            try {
                publish(farm, witness, at);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            } catch (ExecutionException | TimeoutException | RuntimeException e) {
                LOG.warn("The witness {} did not cosign the checkpoint of {}; it is tried again", witness, farm, e);
            }
        }
    }

    private void publish(FarmId farm, One witness, Instant at)
            throws InterruptedException, ExecutionException, TimeoutException {
        Note note = ledger.checkpoint(farm);
        long size = Checkpoint.parse(note.text()).size();
        if (!note.by(witness.key()).isEmpty()) {
            return;
        }
        long old = Math.min(cosignatures.last(farm, witness.key()), size);
        HttpResponse<String> answer = send(farm, witness, note, old, size);
        if (answer.statusCode() == CONFLICT) {
            long seen = size(answer.body());
            if (seen > size) {
                LOG.error(
                        "The witness {} saw {} events of {}, and there are {}: was an old copy of the log restored?",
                        witness,
                        seen,
                        farm,
                        size);
                return;
            }
            if (seen != old) {
                answer = send(farm, witness, note, seen, size);
            }
        }
        if (answer.statusCode() != OK) {
            LOG.warn(
                    "The witness {} refused the checkpoint of {} with {}; it is tried again",
                    witness,
                    farm,
                    answer.statusCode());
            return;
        }
        List<Note.Signature> given = new Note(note.text(), Note.signatures(answer.body())).by(witness.key());
        if (given.isEmpty()) {
            throw new IllegalStateException("no cosignature of this checkpoint is in the answer");
        }
        cosignatures.keep(farm, size, witness.key(), given.get(0), at);
    }

    private static long size(String conflict) {
        if (!conflict.matches("(0|[1-9][0-9]{0,17})\n")) {
            throw new IllegalStateException("a conflict without a size");
        }
        return Long.parseLong(conflict.strip());
    }

    private HttpResponse<String> send(FarmId farm, One witness, Note note, long old, long size)
            throws InterruptedException, ExecutionException, TimeoutException {
        AddCheckpoint request = new AddCheckpoint(old, ledger.consistency(farm, old, size), note);
        CompletableFuture<HttpResponse<String>> answer = http.getObject()
                .sendAsync(
                        HttpRequest.newBuilder(witness.address())
                                .header("Content-Type", "text/plain; charset=utf-8")
                                .timeout(ANSWER)
                                .POST(HttpRequest.BodyPublishers.ofString(request.toString(), StandardCharsets.UTF_8))
                                .build(),
                        head -> new AtMost(MOST_BYTES));
        try {
            // The request's own limit ends with the head of the answer.
            return answer.get(ANSWER.toMillis(), TimeUnit.MILLISECONDS);
        } finally {
            answer.cancel(true);
        }
    }
}
