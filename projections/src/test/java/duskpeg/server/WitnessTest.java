package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.sun.net.httpserver.HttpServer;
import duskpeg.core.audit.Container;
import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.AddCheckpoint;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Cosignature;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.KeptInMemory;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.Tree;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.audit.VerifyCommand;
import duskpeg.projections.ledger.Ledger;
import duskpeg.projections.witness.Witnesses;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A farm shows its checkpoints to a neighbour's server, and a test tries to get the neighbour to say what is not so. */
class WitnessTest {

    private static final FarmId FARM = new FarmId("marrowfield");
    private static final Instant AT = Instant.parse("2026-11-26T06:00:00Z");
    private static final String ADD = "/witness/add-checkpoint";

    @TempDir
    private Path folder;

    private static SignerKey newKey(String name, VerifierKey.Kind kind) {
        try {
            return SignerKey.of(
                    name, kind, KeyPairGenerator.getInstance("Ed25519").generateKeyPair());
        } catch (NoSuchAlgorithmException e) {
            throw new AssertionError(e);
        }
    }

    /** A farm whose witnesses are those in the file. */
    private TestFarm farm(Engine engine, Path witnesses) {
        return new TestFarm(
                engine,
                "--duskpeg.ledger-name=farm.example",
                "--duskpeg.ledger-key=" + folder.resolve("farm.key"),
                "--duskpeg.witnesses=file:" + witnesses);
    }

    private TestFarm neighbour(Engine engine, VerifierKey log) {
        return new TestFarm(
                engine,
                "--duskpeg.ledger-name=neighbour.example",
                "--duskpeg.ledger-key=" + folder.resolve("neighbour.key"),
                "--duskpeg.witness-key=" + folder.resolve("witness.key"),
                "--duskpeg.witness-of=" + log);
    }

    private static VerifierKey logKey(TestFarm farm) {
        return VerifierKey.parse(farm.get("/api/ledger/key").body().strip());
    }

    private static VerifierKey witnessKey(TestFarm neighbour) {
        return VerifierKey.parse(neighbour.get("/witness/key").body().strip(), VerifierKey.Kind.COSIGNATURE);
    }

    private static Note newest(TestFarm farm) {
        farm.awaitProjections();
        return Note.parse(farm.get("/api/ledger/checkpoint").body());
    }

    private static long size(Note note) {
        return Checkpoint.parse(note.text()).size();
    }

    /** C2SP tlog-witness: "The response body MUST consist of the tree size … The response MUST have a Content-Type". */
    private static void isConflict(HttpResponse<String> answer, long size) {
        assertThat(answer.statusCode()).isEqualTo(409);
        assertThat(answer.headers().firstValue("Content-Type")).hasValue("text/x.tlog.size");
        assertThat(answer.body()).isEqualTo(size + "\n");
    }

    @ParameterizedTest
    @EnumSource(Engine.class)
    void aNeighbourSeesTheLogGrowAndNoFork(Engine engine) throws Exception {
        Path witnesses = Files.writeString(folder.resolve("witnesses.txt"), "# nobody yet\n");
        try (TestFarm farm = farm(engine, witnesses)) {
            VerifierKey log = logKey(farm);
            try (TestFarm neighbour = neighbour(engine, log)) {
                VerifierKey witness = witnessKey(neighbour);
                // One that nobody answers for does not keep the other from being asked.
                Files.writeString(
                        witnesses,
                        "http://localhost:1/witness "
                                + newKey("gone.example", VerifierKey.Kind.COSIGNATURE)
                                        .verifier()
                                + "\n\n" + neighbour.address("/witness") + " " + witness + "\n");
                farm.restart();
                assertThat(newest(farm).isSignedBy(witness)).isFalse();

                farm.bean(Witnesses.class).publish(FARM, AT);
                Note first = newest(farm);
                assertThat(first.isSignedBy(witness)).isTrue();
                assertThat(first.isSignedBy(log)).isTrue();
                assertThat(first.signatures()).hasSize(2);

                farm.at("2026-11-25T17:00:00+02:00").text("Nomsa", "1 12 14 m 28");
                assertThat(newest(farm).isSignedBy(witness)).isFalse();
                farm.bean(Witnesses.class).publish(FARM, AT);
                Note second = newest(farm);
                assertThat(size(second)).isGreaterThan(size(first));
                assertThat(second.isSignedBy(witness)).isTrue();
                farm.bean(Witnesses.class).publish(FARM, AT);
                assertThat(newest(farm)).isEqualTo(second);

                theBundleHasHisWord(
                        farm,
                        witness,
                        newKey("other.example", VerifierKey.Kind.COSIGNATURE).verifier());
                neighbour.restart();
                tryToFork(farm, neighbour, newest(farm));
            }
        }
    }

    private void theBundleHasHisWord(TestFarm farm, VerifierKey witness, VerifierKey stranger) throws Exception {
        farm.at("2026-11-26T07:00:00+02:00").text("Nomsa", "2345 12 1");
        farm.awaitProjections();
        farm.bean(Witnesses.class).publish(FARM, AT);
        byte[] container = farm.download("/api/audit/bundle?tie=4700");
        Path bundle = Files.write(folder.resolve("bundle.zip"), container);
        VerifyJava alone = new VerifyJava(folder, Container.read(container).get("Verify.java"));
        says(alone, bundle, witness, 0, witness.name() + " saw the checkpoint");
        says(alone, bundle, stranger, 2, "The checkpoint has no word of other.example.");
    }

    /** What both verifiers say. */
    private static void says(VerifyJava alone, Path bundle, VerifierKey witness, int status, String words)
            throws Exception {
        List<String> arguments = List.of(bundle.toString(), "--witness", witness.toString());
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        assertThat(VerifyCommand.run(arguments, new PrintStream(out, true, StandardCharsets.UTF_8)))
                .isEqualTo(status);
        assertThat(out.toString(StandardCharsets.UTF_8)).contains(words);
        VerifyJava.Said said = alone.run(arguments);
        assertThat(said.status()).as(said.words()).isEqualTo(status);
        assertThat(said.words()).contains(words);
    }

    private static void tryToFork(TestFarm farm, TestFarm neighbour, Note seen) {
        Checkpoint last = Checkpoint.parse(seen.text());
        Ledger ledger = farm.bean(Ledger.class);
        Note more = ledger.sign(FARM, new Checkpoint(last.origin(), last.size() + 1, Hash.EMPTY).text());
        List<Hash> leaves = IntStream.rangeClosed(0, (int) last.size())
                .mapToObj(leaf -> Hash.ofLeaf(new byte[] {(byte) leaf}))
                .toList();
        Tree fork = new Tree(leaves.size(), KeptInMemory.of(leaves));
        Note forked = ledger.sign(FARM, new Checkpoint(last.origin(), leaves.size(), fork.root()).text());

        isConflict(neighbour.post(ADD, new AddCheckpoint(0, List.of(), seen).toString()), last.size());
        isConflict(neighbour.post(ADD, new AddCheckpoint(0, List.of(), more).toString()), last.size());
        assertThat(neighbour.post(
                        ADD, new AddCheckpoint(last.size(), fork.consistency(last.size()), forked).toString()))
                .extracting(HttpResponse::statusCode)
                .isEqualTo(422);
        Note same = ledger.sign(FARM, new Checkpoint(last.origin(), last.size(), Hash.EMPTY).text());
        isConflict(neighbour.post(ADD, new AddCheckpoint(last.size(), List.of(), same).toString()), last.size());
        assertThat(neighbour.post(ADD, new AddCheckpoint(last.size() + 1, List.of(), seen).toString()))
                .extracting(HttpResponse::statusCode)
                .isEqualTo(400);
        SignerKey stranger = newKey(last.origin(), VerifierKey.Kind.NOTE);
        assertThat(neighbour.post(
                        ADD, new AddCheckpoint(last.size(), List.of(), Note.sign(last.text(), stranger)).toString()))
                .extracting(HttpResponse::statusCode)
                .isEqualTo(403);
        assertThat(neighbour.post(ADD, new AddCheckpoint(0, List.of(), newest(neighbour)).toString()))
                .extracting(HttpResponse::statusCode)
                .isEqualTo(404);
        for (String body : List.of("", "old 1\n", seen.toString(), "old 1\n\n" + seen.text(), "\u00e9\u0000")) {
            assertThat(neighbour.post(ADD, body).statusCode()).as(body).isEqualTo(400);
        }
        assertThat(neighbour.post(ADD, "old 1\n".repeat(100_000)).statusCode()).isEqualTo(413);

        // None of that moved it: the same checkpoint is cosigned again.
        HttpResponse<String> again = neighbour.post(ADD, new AddCheckpoint(last.size(), List.of(), seen).toString());
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(new Note(seen.text(), Note.signatures(again.body())).isSignedBy(witnessKey(neighbour)))
                .isTrue();
        // Who witnesses nobody has no such address.
        assertThat(farm.get("/witness/key").statusCode()).isEqualTo(404);
        assertThat(farm.post(ADD, new AddCheckpoint(0, List.of(), seen).toString())
                        .statusCode())
                .isEqualTo(404);
    }

    @ParameterizedTest
    @EnumSource(Engine.class)
    void ofThoseThatComeAtOnceOneIsCosigned(Engine engine) throws IOException {
        SignerKey key = newKey("log.example", VerifierKey.Kind.NOTE);
        List<Hash> leaves = IntStream.range(0, 64)
                .mapToObj(leaf -> Hash.ofLeaf(new byte[] {(byte) leaf}))
                .toList();
        KeptInMemory tiles = KeptInMemory.of(leaves);
        try (TestFarm neighbour = neighbour(engine, key.verifier())) {
            VerifierKey witness = witnessKey(neighbour);
            int last = 0;
            // The first round is about the first row, the others about changing it.
            for (int round = 0; round < 5; round++) {
                int old = last;
                List<CompletableFuture<HttpResponse<String>>> answers = new ArrayList<>();
                for (int size = old + 1; size <= old + 8; size++) {
                    Tree tree = new Tree(size, tiles);
                    String text = new Checkpoint("log.example", size, tree.root()).text();
                    String body = new AddCheckpoint(old, tree.consistency(old), Note.sign(text, key)).toString();
                    answers.add(CompletableFuture.supplyAsync(() -> neighbour.post(ADD, body)));
                }
                List<Integer> cosigned = new ArrayList<>();
                for (int i = 0; i < answers.size(); i++) {
                    HttpResponse<String> answer = answers.get(i).join();
                    if (answer.statusCode() == 200) {
                        int size = old + 1 + i;
                        String text = new Checkpoint("log.example", size, new Tree(size, tiles).root()).text();
                        assertThat(new Note(text, Note.signatures(answer.body())).isSignedBy(witness))
                                .isTrue();
                        cosigned.add(size);
                    }
                }
                assertThat(cosigned).hasSize(1);
                last = cosigned.get(0);
                for (CompletableFuture<HttpResponse<String>> answer : answers) {
                    if (answer.join().statusCode() != 200) {
                        isConflict(answer.join(), last);
                    }
                }
            }
            Path file = folder.resolve("witness.key");
            if (Files.getFileStore(file).supportsFileAttributeView("posix")) {
                assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                        .isEqualTo("rw-------");
            }
        }
    }

    /** A witness who answers each time with what he is told to. */
    private static final class Played implements AutoCloseable {

        private final HttpServer server;
        private final List<String> bodies = new CopyOnWriteArrayList<>();
        private volatile int status;
        private volatile String answer = "";

        Played() throws IOException {
            server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
            server.createContext("/add-checkpoint", exchange -> {
                bodies.add(new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
                byte[] bytes = answer.getBytes(StandardCharsets.UTF_8);
                exchange.sendResponseHeaders(status, bytes.length == 0 ? -1 : bytes.length);
                if (bytes.length > 0) {
                    exchange.getResponseBody().write(bytes);
                }
                exchange.close();
            });
            server.start();
        }

        String address() {
            return "http://localhost:" + server.getAddress().getPort();
        }

        void says(int status, String answer) {
            this.status = status;
            this.answer = answer;
        }

        @Override
        public void close() {
            server.stop(0);
        }
    }

    @Test
    void whatAWitnessSaysIsNotTakenOnTrust() throws IOException {
        SignerKey witness = newKey("witness.example", VerifierKey.Kind.COSIGNATURE);
        try (Played played = new Played();
                TestFarm farm = new TestFarm(
                        Engine.H2, "--duskpeg.witnesses=" + played.address() + "/ " + witness.verifier())) {
            Witnesses witnesses = farm.bean(Witnesses.class);
            Note note = newest(farm);
            String right = Cosignature.make(note.text(), AT, witness) + "\n";
            String ofAnother =
                    Cosignature.make(new Checkpoint("other.example", 1, Hash.EMPTY).text(), AT, witness) + "\n";
            SignerKey stranger = newKey("witness.example", VerifierKey.Kind.COSIGNATURE);
            for (String answer : List.of(
                    "",
                    "fine\n",
                    right.strip(),
                    ofAnother,
                    right + ofAnother,
                    Cosignature.make(note.text(), AT, stranger) + "\n",
                    right.repeat(5_000))) {
                played.says(200, answer);
                witnesses.publish(FARM, AT);
                assertThat(newest(farm)).as(answer).isEqualTo(note);
            }
            for (int status : new int[] {201, 302, 400, 403, 404, 422, 429, 500, 503}) {
                played.says(status, status == 302 ? "" : right);
                witnesses.publish(FARM, AT);
                assertThat(newest(farm)).as("%d", status).isEqualTo(note);
            }
            played.bodies.clear();
            for (String size : List.of("", "x\n", "-1\n", "99999999\n", "3", "0\n")) {
                played.says(409, size);
                witnesses.publish(FARM, AT);
                assertThat(newest(farm)).as(size).isEqualTo(note);
            }
            assertThat(played.bodies).hasSize(6).allMatch(body -> body.startsWith("old 0\n\n"));
            // He says that he saw three leaves, and is shown how the tree goes on from there.
            played.bodies.clear();
            played.says(409, "3\n");
            witnesses.publish(FARM, AT);
            assertThat(played.bodies).hasSize(2);
            AddCheckpoint second = AddCheckpoint.parse(played.bodies.get(1));
            assertThat(second.old()).isEqualTo(3);
            assertThat(second.proof()).isEqualTo(farm.bean(Ledger.class).consistency(FARM, 3, size(note)));

            // Lines of others are let lie.
            played.says(200, Cosignature.make(note.text(), AT, stranger) + "\n" + right);
            witnesses.publish(FARM, AT);
            assertThat(newest(farm)).hasToString(note + right);
        }
    }

    @Test
    void settingsThatSayNothingSensibleAreRefused() {
        String own = newKey("duskpeg.invalid/marrowfield", VerifierKey.Kind.NOTE)
                .verifier()
                .toString();
        assertThatThrownBy(() -> new TestFarm(Engine.H2, "--duskpeg.witness-of=" + own).close())
                .hasRootCauseMessage("a log can't be its own witness: duskpeg.invalid/marrowfield");
        assertThatThrownBy(() -> new TestFarm(Engine.H2, "--duskpeg.witnesses=https://witness.example").close())
                .hasRootCauseMessage("not the address and the key of a witness: https://witness.example");
    }
}
