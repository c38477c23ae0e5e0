package duskpeg.projections.witness;

import duskpeg.core.ledger.AddCheckpoint;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Cosignature;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.core.ledger.Witness;
import duskpeg.projections.ledger.KeyFile;
import duskpeg.projections.ledger.LedgerKeys;
import duskpeg.projections.ledger.SigningKeys;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/** What this server saw of the logs that it witnesses. */
@Component
class Witnessed {

    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final KeyFile keys;
    private final SigningKeys signing;
    private final String name;
    private final Map<String, List<VerifierKey>> logs;
    private final InstantSource time;

    /**
     * @param of the keys of the logs to witness; a log's origin is the name of its keys
     * @throws IllegalArgumentException if one of them is no key, or of a log of this server
     */
    Witnessed(
            JdbcClient jdbc,
            TransactionTemplate transaction,
            LedgerKeys own,
            SigningKeys signing,
            @Qualifier(WitnessConfig.TIME) InstantSource time,
            @Value("${duskpeg.witness-of}") String of,
            @Value("${duskpeg.witness-key}") Path file,
            @Value("${duskpeg.witness-name}") String name) {
        this.jdbc = jdbc;
        this.transaction = transaction;
        this.time = time;
        this.keys = new KeyFile(file);
        this.signing = signing;
        this.name = name;
        this.logs =
                Listed.entries(of).stream().map(VerifierKey::parse).collect(Collectors.groupingBy(VerifierKey::name));
        logs.keySet().stream().filter(own::isOwn).findAny().ifPresent(origin -> {
            throw new IllegalArgumentException("a log can't be its own witness: " + origin);
        });
    }

    /** Whether it witnesses any log. */
    boolean isWitness() {
        return !logs.isEmpty();
    }

    /** The keys that cosign. */
    List<VerifierKey> keys() {
        return signers().stream().map(SignerKey::verifier).toList();
    }

    private List<SignerKey> signers() {
        signing.agree(SigningKeys.WITNESS, keys);
        return keys.keys(name, VerifierKey.Kind.COSIGNATURE);
    }

    /**
     * The answer to a log.
     *
     * @param size how many leaves the tree has that was cosigned last
     * @param cosignatures one of each key; none unless the answer is to cosign
     */
    record Said(Witness.Answer answer, long size, List<Note.Signature> cosignatures) {}

    /** Answers a log. What is cosigned was kept before. */
    Said add(AddCheckpoint request) {
        Checkpoint next = request.checkpoint();
        Optional<Seen> seen = seen(next.origin());
        Checkpoint last = seen.map(Seen::checkpoint).orElseGet(() -> Witness.nothing(next.origin()));
        Witness.Answer answer = Witness.decide(request, logs.getOrDefault(next.origin(), List.of()), last);
        if (answer != Witness.Answer.COSIGN) {
            return new Said(answer, last.size(), List.of());
        }
        Instant now = time.instant();
        if (!keep(next, request.note(), seen, now)) {
            // Somebody else's was kept since: what this one goes on from is no longer the last.
            long size = seen(next.origin()).orElseThrow().size();
            return new Said(Witness.Answer.CONFLICT, size, List.of());
        }
        String text = request.note().text();
        return new Said(
                answer,
                next.size(),
                signers().stream().map(key -> Cosignature.make(text, now, key)).toList());
    }

    private record Seen(long size, String note) {

        Checkpoint checkpoint() {
            return Checkpoint.parse(Note.parse(note).text());
        }
    }

    private Optional<Seen> seen(String origin) {
        return jdbc.sql("select tree_size, note from witnessed where origin = ?")
                .param(origin)
                .query((row, number) -> new Seen(row.getLong(1), row.getString(2)))
                .optional();
    }

    /**
     * Keeps a checkpoint in the place of the one that was seen, in one statement: of two that go on from the same one,
     * the second finds another in its place (C2SP tlog-witness: checked and persisted atomically).
     */
    private boolean keep(Checkpoint next, Note note, Optional<Seen> seen, Instant now) {
        OffsetDateTime at = OffsetDateTime.ofInstant(now, ZoneOffset.UTC);
        JdbcClient.StatementSpec statement = seen.map(last -> jdbc.sql("update witnessed"
                                + " set tree_size = ?, note = ?, witnessed = ? where origin = ? and tree_size = ?")
                        .params(next.size(), note.toString(), at, next.origin(), last.size()))
                .orElseGet(() -> jdbc.sql(
                                "insert into witnessed (tree_size, note, witnessed, origin)" + " values (?, ?, ?, ?)")
                        .params(next.size(), note.toString(), at, next.origin()));
        try {
            return Objects.requireNonNull(transaction.execute(status -> statement.update())) == 1;
        } catch (DuplicateKeyException e) {
            return false;
        }
    }
}
