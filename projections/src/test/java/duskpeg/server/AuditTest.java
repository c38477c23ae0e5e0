package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import duskpeg.core.audit.Container;
import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Cosignature;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.audit.CheckCommand;
import duskpeg.projections.audit.VerifyCommand;
import duskpeg.projections.ledger.Cosignatures;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyPairGenerator;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.StreamSupport;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * An auditor who has a bundle, and trusts neither the farm nor its program: the server's own verifier and the one that
 * is in the bundle as source share no code, and must agree on fruit of every fate.
 */
@OnBothEngines
class AuditTest {

    private static final String KOOS = "+15555550105";

    /**
     * What became of which fruit. In the order of the ties from 004700: its row was said wrongly, it still hangs, was cut
     * off, is as it should be, has a tie that is on two, was said of a wrong row which was settled, has a tie of
     * another's strip, of a strip that was handed over; its row was found open in part; it was pollinated late, taken
     * back, has a tie of a lost strip, was never said to be tied; its row has more than were pegged, which was settled
     * for the next; has one person behind it; has a printed tag.
     */
    private static final Map<String, String> FATES = Map.ofEntries(
            Map.entry("004703", "pure"),
            Map.entry("004701", "unfinished"),
            Map.entry("004702", "not-pure"),
            Map.entry("004750", "in-question"),
            Map.entry("004700", "in-question"),
            Map.entry("004705", "pure"),
            Map.entry("004704", "in-question"),
            Map.entry("004795", "in-question"),
            Map.entry("004800", "in-question"),
            Map.entry("004803", "in-question"),
            Map.entry("004806", "in-question"),
            Map.entry("004730", "unfinished"),
            Map.entry("004710", "in-question"),
            Map.entry("004753", "not-pure"),
            Map.entry("004754", "no-report"),
            Map.entry("004790", "not-pure"),
            Map.entry("900003", "unfinished"));

    @TempDir
    private static Path folder;

    private static TestFarm farm;
    private static VerifyJava alone;
    private static String older;

    /** What a program printed, and its exit status. */
    private record Ran(int status, String printed) {

        /** The verdicts and what each rule found, by either program. */
        List<String> findings() {
            return printed.lines()
                    .map(String::strip)
                    .filter(line -> line.matches("(fruit|[a-z-]+ (holds|fails|not-shown)) .*"))
                    .map(line -> Arrays.stream(line.split(" ", -1)).limit(3).collect(Collectors.joining(" ")))
                    .toList();
        }
    }

    @BeforeAll
    static void aSeason() throws Exception {
        farm = new TestFarm(Engine.asked());
        farm.at("2026-11-25T17:00:00+02:00");
        farm.awaitProjections();
        older = farm.get("/api/ledger/checkpoint").body();
        for (String pegged :
                List.of("1 12 14 m 28", "1 14 3 m 6", "1 15 3 m 6", "1 16 3 m 6", "1 20 9 m 18", "1 21 4 m 8")) {
            farm.text("Pieter", pegged);
        }
        for (String pegged : List.of("1 17 2 m 4", "1 18 2 m 4", "1 19 2 m 4")) {
            farm.text("Lerato", pegged);
        }
        farm.at("2026-11-26T06:40:00+02:00").text("Nomsa", "2345 12 6");
        farm.text("Pieter", "8 14 1 1\n2345 14 3");
        farm.text("Nomsa", "3 15.7 1 from 15.7\n245 15.7 1");
        farm.text("Nomsa", "2345 16 004704");
        farm.text("Lerato", "2345 17 3");
        farm.text("Lerato", "2345 18 3");
        farm.text("Lerato", "2345 19 1");
        farm.text("Nomsa", "strip to Lerato from 4730");
        farm.text("Lerato", "2345 20 004730");
        farm.text("Pieter", "2345 20 004710");
        farm.text(KOOS, "2345 20 900003");
        farm.text("Nomsa", "damaged 4709");
        settle("opened-over-pegged", "/row/18/2026-11-26");
        farm.at("2026-11-26T10:30:00+02:00").text("Pieter", "2345 20 1");
        farm.text("Pieter", "2345 21 1");
        farm.text("Pieter", "0");
        farm.text("Pieter", "strip lost from 4780");
        farm.at("2026-11-26T10:50:00+02:00").text("Pieter", "2345 21 004790");
        farm.at("2026-12-04T09:00:00+02:00").text("Lerato", "6 4702");
        farm.at("2027-01-25T09:00:00+02:00").text("Lerato", "7 4703 4704 4750 4800 4803 4806 4795");
        farm.text("Nomsa", "7 17 4705\n7 17 4700");
        settle("row-differs", "/tie/004705");
        lots();
        // An event that no rule reads.
        assertThat(farm.post(
                                "/plan/roster",
                                Map.of(
                                        "farm", "marrowfield",
                                        "morning", "2027-01-26",
                                        "start", "05:00",
                                        "by", "w8",
                                        "crew", "w1"))
                        .statusCode())
                .isEqualTo(302);
        farm.awaitProjections();
        alone = new VerifyJava(folder, files("tie=4703").get("Verify.java"));
    }

    /** AS-27B was drawn from AS-27, which has two fruit and another that was withdrawn, and has one of its own. */
    private static void lots() {
        farm.awaitProjections();
        enter("/lots", "lot", "AS-27", "cultivar", "Amber Spindle");
        enter("/lots", "lot", "AS-27B", "cultivar", "Amber Spindle");
        enter("/lots", "lot", "AS-27C", "cultivar", "Amber Spindle");
        enter("/lot/AS-27/take", "ties", "4703 4705");
        enter("/lot/AS-27/take", "ties", "4704", "although", "yes");
        enter("/lot/AS-27/withdraw", "entry", "3", "why", "another tie");
        enter("/lot/AS-27/weigh", "grams", "400");
        enter("/lot/AS-27/draw", "to", "AS-27B", "grams", "100");
        enter("/lot/AS-27B/take", "ties", "4750", "although", "yes");
        farm.awaitProjections();
    }

    private static void enter(String path, String... fields) {
        Map<String, String> form = new LinkedHashMap<>(Map.of("farm", "marrowfield", "by", "w8"));
        for (int i = 0; i < fields.length; i += 2) {
            form.put(fields[i], fields[i + 1]);
        }
        HttpResponse<String> answer = farm.post(path, form);
        assertThat(answer.statusCode()).as(path + " " + form + answer.body()).isEqualTo(302);
    }

    private static void settle(String kind, String about) {
        farm.awaitProjections();
        boolean found = false;
        for (JsonNode question : farm.json("/api/inbox").get("questions")) {
            if (question.get("kind").asText().equals(kind)
                    && question.get("subject").asText().endsWith(about)) {
                HttpResponse<String> answer = farm.post(
                        "/inbox/as-reported",
                        Map.of(
                                "by",
                                "w8",
                                "subject",
                                question.get("subject").asText(),
                                "question",
                                question.get("key").asText(),
                                "note",
                                "counted again"));
                assertThat(answer.statusCode()).isEqualTo(302);
                found = true;
            }
        }
        assertThat(found).as(about).isTrue();
    }

    @AfterAll
    static void close() {
        farm.close();
    }

    private static Map<String, byte[]> files(String query) {
        return Container.read(farm.download("/api/audit/bundle?" + query));
    }

    private static String file(String query, String name) {
        return new String(files(query).get(name), StandardCharsets.UTF_8);
    }

    private static List<String> arguments(byte[] bundle, Map<String, String> options) throws IOException {
        Path file = folder.resolve("bundle.zip");
        Files.write(file, bundle);
        List<String> arguments = new ArrayList<>(List.of(file.toString()));
        options.forEach((name, value) -> arguments.addAll(List.of(name, value)));
        return arguments;
    }

    private static Ran ours(byte[] bundle, Map<String, String> options) throws IOException {
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        int status =
                VerifyCommand.run(arguments(bundle, options), new PrintStream(printed, true, StandardCharsets.UTF_8));
        return new Ran(status, printed.toString(StandardCharsets.UTF_8));
    }

    private static Ran alone(byte[] bundle, Map<String, String> options) throws Exception {
        VerifyJava.Said said = alone.run(arguments(bundle, options));
        return new Ran(said.status(), said.words());
    }

    /** Runs both, which must agree, and gives what ours says. */
    private static Ran both(byte[] bundle, Map<String, String> options) throws Exception {
        Ran ours = ours(bundle, options);
        Ran alone = alone(bundle, options);
        assertThat(alone.findings()).as(alone.printed()).isEqualTo(ours.findings());
        assertThat(alone.status()).as(ours.printed() + alone.printed()).isEqualTo(ours.status());
        return ours;
    }

    private static String verdict(String tie) {
        return file("tie=" + tie, "claim.txt").lines().toList().get(1).replaceFirst(".* ", "");
    }

    @Test
    void everyFateHasItsVerdict() {
        Map<String, String> verdicts = new LinkedHashMap<>();
        FATES.keySet().forEach(tie -> verdicts.put(tie, verdict(tie)));
        assertThat(verdicts).containsExactlyInAnyOrderEntriesOf(FATES);
    }

    @Test
    void twoProgramsThatShareNoCodeFindTheSameOfEveryFruit() throws Exception {
        List<String> ties = IntStream.rangeClosed(4700, 4849)
                .mapToObj(tie -> "00" + tie)
                .collect(Collectors.toCollection(ArrayList::new));
        ties.add("900003");
        int fruit = 0;
        for (String tie : ties) {
            if (farm.get("/api/audit/bundle?tie=" + tie).statusCode() != 200) {
                assertThat(FATES).doesNotContainKey(tie);
                continue;
            }
            fruit++;
            byte[] bundle = farm.download("/api/audit/bundle?tie=" + tie);
            Ran ran = both(bundle, Map.of());
            assertThat(ran.status()).as(ran.printed()).isZero();
            assertThat(ran.printed()).contains("note    The key is the bundle's own");
            HttpResponse<String> known = farm.get("/api/fruit/" + tie + "/verdict");
            if (known.statusCode() == 200) {
                assertThat(claimed(farm.json("/api/fruit/" + tie + "/verdict"), tie))
                        .isEqualTo(file("tie=" + tie, "claim.txt"));
            } else {
                assertThat(verdict(tie)).isEqualTo("no-report");
            }
        }
        assertThat(fruit).isGreaterThan(20);
    }

    /** What the page says, in the form of a claim. */
    private static String claimed(JsonNode verdict, String tie) {
        String head = "rules " + verdict.get("rules").asText() + "\nfruit marrowfield/tie/" + tie + " "
                + verdict.get("verdict").asText() + "\n";
        return StreamSupport.stream(verdict.get("evidence").spliterator(), false)
                .map(one -> {
                    String read = StreamSupport.stream(one.get("events").spliterator(), false)
                            .map(JsonNode::asText)
                            .collect(Collectors.joining(","));
                    return String.join(
                                    " ",
                                    one.get("rule").asText(),
                                    one.get("result").asText(),
                                    one.get("grade").asText(),
                                    read.isEmpty() ? "-" : read,
                                    one.get("because").asText())
                            + "\n";
                })
                .collect(Collectors.joining("", head, ""));
    }

    @Test
    void aRowsMorningAndTheWholeLogAreCheckedAlike() throws Exception {
        Ran row = both(farm.download("/api/audit/bundle?row=12&morning=2026-11-26"), Map.of());
        assertThat(row.status()).as(row.printed()).isZero();
        assertThat(row.findings()).filteredOn(line -> line.startsWith("fruit ")).hasSize(6);
        assertThat(row.printed()).contains("Not shown: that these streams have no later event");

        Ran whole = both(farm.download("/api/audit/bundle?tie=4703&whole=true"), Map.of());
        assertThat(whole.status()).as(whole.printed()).isZero();
        assertThat(whole.printed()).contains("so none was left out").doesNotContain("Not shown");
    }

    @Test
    void aLotIsCheckedWithWhatWasEnteredOfItAndOfThoseItWasDrawnFrom() throws Exception {
        byte[] bundle = farm.download("/api/audit/bundle?lot=as-27b");
        Ran ran = both(bundle, Map.of());
        assertThat(ran.status()).as(ran.printed()).isZero();
        assertThat(ran.findings())
                .filteredOn(line -> line.startsWith("fruit "))
                .containsExactly(
                        "fruit marrowfield/tie/004703 pure",
                        "fruit marrowfield/tie/004705 pure",
                        "fruit marrowfield/tie/004750 in-question");
        assertThat(ran.printed()).contains("all the fruit of marrowfield/lot/AS-27B, as was entered");
        assertThat(file("lot=AS-27", "claim.txt").lines().filter(line -> line.startsWith("fruit ")))
                .containsExactly("fruit marrowfield/tie/004703 pure", "fruit marrowfield/tie/004705 pure");

        // Who leaves a fruit out of the claim is found out by both, were it signed or not.
        Map<String, byte[]> files = new LinkedHashMap<>(Container.read(bundle));
        String claim = new String(files.get("claim.txt"), StandardCharsets.UTF_8);
        files.put(
                "claim.txt",
                claim.substring(0, claim.indexOf("fruit marrowfield/tie/004750"))
                        .getBytes(StandardCharsets.UTF_8));
        Ran less = both(Container.write(files), Map.of());
        assertThat(less.status()).isEqualTo(1);
        assertThat(less.printed()).contains("What is claimed does not follow from the events");
    }

    @Test
    void everyEventIsOfTheFormThatTheSchemaInTheBundleGives() {
        Map<String, byte[]> files = files("tie=4703&whole=true");
        Schema schema = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(new String(files.get("schema.json"), StandardCharsets.UTF_8), InputFormat.JSON);
        List<String> events = new String(files.get("events.jsonl"), StandardCharsets.UTF_8)
                .lines()
                .toList();
        assertThat(events.size()).isGreaterThan(50);
        for (String event : events) {
            assertThat(schema.validate(event, InputFormat.JSON)).as(event).isEmpty();
        }
        String tied = events.stream()
                .filter(event -> event.contains("\"type\":\"tied\""))
                .findFirst()
                .orElseThrow();
        for (String wrong : List.of(
                tied.replace("\"count\":", "\"counted\":"),
                tied.replace("\"type\":\"tied\"", "\"type\":\"glued\""),
                tied.replaceFirst("\"ties\":\\[[^]]*]", "\"ties\":7"),
                tied.replaceFirst("\"stored\":\"[^\"]*\",", ""))) {
            assertThat(wrong).isNotEqualTo(tied);
            assertThat(schema.validate(wrong, InputFormat.JSON)).as(wrong).isNotEmpty();
        }
    }

    @Test
    void theHistoryLeadsToItsLotsAndEachRuleToWhatItWasReadFrom() {
        String page = farm.get("/fruit/4703").body();
        assertThat(page)
                .contains("<a href=\"/lot/AS-27\">AS-27</a>", "Mother plant", "href=\"#report-1\"", "id=\"report-1\"");
        String before = farm.get("/fruit/4703?at=2026-11-26T07:00:00%2B02:00").body();
        assertThat(before).doesNotContain("/lot/AS-27").contains("As it was known at");
        assertThat(farm.get("/row/12/2026-11-26").body())
                .contains("004703</a> pure", "004702</a> not pure", "QR code of this page");
        assertThat(farm.get("/lot/AS-27B").body()).contains("/api/audit/bundle?lot=AS-27B", "QR code of this page");
    }

    @Test
    void theSameLogGivesTheSameBytes() throws IOException {
        byte[] bundle = farm.download("/api/audit/bundle?tie=4703");
        assertThat(farm.download("/api/audit/bundle?tie=004703")).isEqualTo(bundle);
        // Any zip program reads it.
        Path file = folder.resolve("zip.zip");
        Files.write(file, bundle);
        try (ZipFile zip = new ZipFile(file.toFile())) {
            assertThat(zip.stream().map(ZipEntry::getName))
                    .containsExactlyElementsOf(Container.read(bundle).keySet())
                    .contains("README.txt", "audit.md", "schema.json", "claim.txt", "bundle.txt");
            assertThat(zip.getInputStream(zip.getEntry("claim.txt")).readAllBytes())
                    .isEqualTo(Container.read(bundle).get("claim.txt"));
        }
    }

    @Test
    void anOlderCheckpointShowsThatNothingWasChangedSince() throws Exception {
        Path kept = Files.writeString(folder.resolve("old.txt"), older);
        String since = older.lines().toList().get(1);
        String key = farm.get("/api/ledger/key").body().strip();
        Map<String, String> options = Map.of("--checkpoint", kept.toString(), "--key", key);
        Ran ran = both(farm.download("/api/audit/bundle?tie=4703&since=" + since), options);
        assertThat(ran.status()).as(ran.printed()).isZero();
        assertThat(ran.printed())
                .contains("The key is the one you gave.")
                .contains("holds   The log of your checkpoint, of " + since + " events, is the beginning of this one");

        // One of a size of which no checkpoint was asked for in time has to be asked for.
        long other = Long.parseLong(since) + 1;
        byte[] unasked = farm.download("/api/audit/bundle?tie=4703");
        String newer = new String(Container.read(unasked).get("checkpoint.txt"), StandardCharsets.UTF_8);
        assertThat(newer).isNotEqualTo(older);
        assertThat(file("tie=4703&since=" + other, "consistency.txt").lines())
                .anyMatch(line -> line.startsWith(other + " "));

        // A key of somebody else's is not believed.
        String stranger = SignerKey.of(
                        "duskpeg.invalid/marrowfield",
                        KeyPairGenerator.getInstance("Ed25519").generateKeyPair())
                .verifier()
                .toString();
        assertThat(both(unasked, Map.of("--key", stranger)).status()).isEqualTo(1);
        assertThat(both(unasked, Map.of("--key", key.replace("+", "+0"))).status())
                .isEqualTo(2);
        // One of another log, or changed, is not either.
        Files.writeString(kept, older.replace("\n" + since + "\n", "\n" + other + "\n"));
        assertThat(both(farm.download("/api/audit/bundle?tie=4703&since=" + other), options)
                        .status())
                .isEqualTo(1);
    }

    @Test
    void theWordOfAWitnessIsPassedOver() throws Exception {
        FarmId id = new FarmId("marrowfield");
        SignerKey witness = SignerKey.of(
                "witness.example",
                VerifierKey.Kind.COSIGNATURE,
                KeyPairGenerator.getInstance("Ed25519").generateKeyPair());
        farm.awaitProjections();
        Note note = Note.parse(farm.get("/api/ledger/checkpoint").body());
        farm.bean(Cosignatures.class)
                .keep(
                        id,
                        Checkpoint.parse(note.text()).size(),
                        witness.verifier(),
                        Cosignature.make(note.text(), Instant.EPOCH, witness),
                        Instant.EPOCH);

        byte[] bundle = farm.download("/api/audit/bundle?tie=4703");
        String cosigned = new String(Container.read(bundle).get("checkpoint.txt"), StandardCharsets.UTF_8);
        assertThat(Note.parse(cosigned).isSignedBy(witness.verifier())).isTrue();
        assertThat(both(bundle, Map.of()).status()).isZero();
        // Also where it is the one that an auditor kept.
        Path kept = Files.writeString(folder.resolve("cosigned.txt"), cosigned);
        assertThat(both(bundle, Map.of("--checkpoint", kept.toString())).status())
                .isZero();
        // The key of a witness is none that a bundle can be signed with.
        assertThat(both(bundle, Map.of("--key", witness.verifier().toString())).status())
                .isEqualTo(2);
    }

    @Test
    void whatCantBeReadIsSaid() throws Exception {
        assertThat(both("PK no bundle".getBytes(StandardCharsets.UTF_8), Map.of())
                        .status())
                .isEqualTo(2);
        assertThat(both(new byte[0], Map.of()).status()).isEqualTo(2);
        assertThat(both(farm.download("/api/audit/bundle?tie=4703"), Map.of("--checkpoint", "no such file"))
                        .status())
                .isEqualTo(2);
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        assertThat(VerifyCommand.run(List.of(), new PrintStream(printed, true, StandardCharsets.UTF_8)))
                .isEqualTo(2);
        assertThat(printed.toString(StandardCharsets.UTF_8)).contains("--checkpoint");
    }

    @Test
    void whatIsNotThereIsSaid() {
        for (String wrong : List.of(
                "",
                "?tie=x",
                "?row=12",
                "?lot=what%20lot",
                "?row=0&morning=2026-11-26",
                "?tie=4703&rules=0",
                "?tie=4703&since=100000",
                "?tie=4703&since=-1",
                "?tie=4703&since=x",
                "?row=12&morning=soon")) {
            assertThat(farm.get("/api/audit/bundle" + wrong).statusCode())
                    .as(wrong)
                    .isEqualTo(400);
        }
        for (String none :
                List.of("?tie=4849", "?lot=AS-27C", "?lot=NONE", "?row=1&morning=2026-11-26", "?tie=4703&farm=other")) {
            assertThat(farm.get("/api/audit/bundle" + none).statusCode())
                    .as(none)
                    .isEqualTo(404);
        }
        assertThat(farm.get("/fruit/4703").body()).contains("/api/audit/bundle?tie=004703");
    }

    @Test
    void theFarmItselfFindsWhatWasChangedInItsDatabase() {
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        PrintStream out = new PrintStream(printed, true, StandardCharsets.UTF_8);
        assertThat(farm.bean(CheckCommand.class).run(out)).isZero();
        JdbcClient jdbc = farm.bean(JdbcClient.class);
        byte[] payload = jdbc.sql("select payload from event where event_type = 'harvested' fetch first 1 rows only")
                .query(byte[].class)
                .single();
        byte[] changed = new String(payload, StandardCharsets.UTF_8)
                .replace("2027", "2026")
                .getBytes(StandardCharsets.UTF_8);
        put(jdbc, payload, changed);
        assertThat(farm.bean(CheckCommand.class).run(out)).isEqualTo(1);
        put(jdbc, changed, "no JSON".getBytes(StandardCharsets.UTF_8));
        assertThat(farm.bean(CheckCommand.class).run(out)).isEqualTo(1);
        put(jdbc, "no JSON".getBytes(StandardCharsets.UTF_8), payload);
        assertThat(farm.bean(CheckCommand.class).run(out)).isZero();
        assertThat(printed.toString(StandardCharsets.UTF_8))
                .contains("FAILS  events were changed or are gone: [")
                .contains("FAILS  checkpoints do not fit, by size: [");
    }

    private static void put(JdbcClient jdbc, byte[] was, byte[] is) {
        assertThat(jdbc.sql("update event set payload = ? where payload = ?")
                        .params(is, was)
                        .update())
                .isEqualTo(1);
    }
}
