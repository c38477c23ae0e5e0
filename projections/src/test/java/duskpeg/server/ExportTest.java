package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.google.zxing.BinaryBitmap;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.common.HybridBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Note;
import duskpeg.core.store.EventLog;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.StringReader;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What is taken away of a season, read back by other programs than wrote it. */
@OnBothEngines
class ExportTest {

    /** A name that a sheet would take for a formula. */
    private static final String FORMULA = "=HYPERLINK(\"http://x.invalid\",\"x\")";

    /** In letters of many languages, and in some that no font for Latin has; 60 is the most that is kept. */
    private static final String CULTIVAR = "Ithangaelimhlophe Ñandú «Güicoyá» ŠďłĦő Ωμέγα Тыква 南瓜 🎃";

    private static final String BASE = "https://duskpeg.invalid/marrowfield/";
    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir
    private static Path folder;

    private static TestFarm farm;

    @BeforeAll
    static void aSeason() throws IOException {
        ObjectNode set = (ObjectNode) JSON.readTree(ExportTest.class.getResource("/demo-farm.json"));
        ObjectNode planting = (ObjectNode) set.get("plantings").get(1);
        assertThat(planting.get("firstRow").asInt()).isEqualTo(9);
        planting.put("name", FORMULA).put("cultivar", CULTIVAR);
        Path file = Files.writeString(folder.resolve("farm.json"), set.toString());
        farm = new TestFarm(Engine.asked(), "--duskpeg.farm-file=" + file.toUri());

        farm.at("2026-11-25T17:00:00+02:00").text("Pieter", "1 12 14 m 28");
        farm.text("Pieter", "1 15 3 m 6");
        for (int i = 0; i < 60; i++) {
            farm.text("Lerato", "1 13 1 m 2");
        }
        farm.at("2026-11-26T06:40:00+02:00").text("Nomsa", "2345 12 6");
        farm.text("Nomsa", "8 12 1 1");
        farm.text("Nomsa", "3 15.7 1 from 15.8 14.2\n245 15.7 1");
        farm.text("Pieter", "2345 13 2");
        farm.text("Pieter", "2345 12 004708");
        farm.text("Pieter", "4 12 1");
        farm.text("Pieter", "0");
        farm.at("2026-11-26T10:30:00+02:00").text("Lerato", "2345 13 1");
        farm.at("2026-12-04T09:00:00+02:00").text("Lerato", "6 4702");
        farm.text("Lerato", "40 12 3");
        farm.awaitProjections();
        for (JsonNode question : farm.json("/api/inbox").get("questions")) {
            if (question.get("kind").asText().equals("tie-of-another")) {
                assertThat(farm.post(
                                        "/inbox/as-reported",
                                        Map.of(
                                                "by",
                                                "w8",
                                                "subject",
                                                question.get("subject").asText(),
                                                "question",
                                                question.get("key").asText(),
                                                "note",
                                                "Nomsa lent it"))
                                .statusCode())
                        .isEqualTo(302);
            }
        }
        farm.at("2027-01-25T09:00:00+02:00").text("Lerato", "7 4703 4704");
        farm.awaitProjections();
        enter("/lots", "lot", "AS-27", "cultivar", CULTIVAR);
        enter("/lot/AS-27/take", "ties", "4703-4704", "although", "yes");
        enter("/lot/AS-27/weigh", "grams", "400.5", "moisture", "7.5");
        enter("/lot/AS-27/lose", "grams", "20.5", "why", "light seed");
        enter("/lot/AS-27/grow", "test", "1", "plants", "400", "offTypes", "1", "fruit", "2");
        enter("/lot/AS-27/withdraw", "entry", "4", "why", "weighed again");
        farm.awaitProjections();
    }

    private static void enter(String path, String... fields) {
        Map<String, String> form = new HashMap<>(Map.of("farm", "marrowfield", "by", "w8"));
        for (int i = 0; i < fields.length; i += 2) {
            form.put(fields[i], fields[i + 1]);
        }
        assertThat(farm.post(path, form).statusCode()).as(path).isEqualTo(302);
    }

    @AfterAll
    static void close() {
        farm.close();
    }

    private static JdbcClient database() {
        return farm.bean(JdbcClient.class);
    }

    private static String text(String path) {
        return new String(farm.download(path), StandardCharsets.UTF_8);
    }

    private static List<JsonNode> lines(String path) throws IOException {
        List<JsonNode> lines = new ArrayList<>();
        for (String line : text(path).split("\n", -1)) {
            if (!line.isEmpty()) {
                lines.add(JSON.readTree(line));
            }
        }
        return lines;
    }

    private static List<CSVRecord> table(String name) throws IOException {
        String text = text("/api/export/" + name + ".csv");
        assertThat(text).endsWith("\r\n");
        try (CSVParser parser = CSVFormat.RFC4180
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get()
                .parse(new StringReader(text))) {
            return parser.getRecords();
        }
    }

    // ---- the log

    @Test
    void everyEventOfTheLogIsALine() throws IOException {
        List<JsonNode> lines = lines("/api/export/events.jsonl");

        assertThat(lines)
                .extracting(line -> line.get("id").asText())
                .containsExactlyElementsOf(database()
                        .sql("select event_id from event order by position")
                        .query(String.class)
                        .list());
        for (JsonNode line : lines) {
            Map<String, Object> stored = database()
                    .sql("select stream, sequence, event_type, revision from event where event_id = ?")
                    .param(line.get("id").asText())
                    .query()
                    .singleRow();
            assertThat(line.get("stream").asText()).isEqualTo(stored.get("stream"));
            assertThat(line.get("sequence").asLong()).isEqualTo(stored.get("sequence"));
            assertThat(line.get("type").asText()).isEqualTo(stored.get("event_type"));
            assertThat(line.get("revision").asText()).isEqualTo(stored.get("revision"));
            byte[] payload = database()
                    .sql("select payload from event where event_id = ?")
                    .param(line.get("id").asText())
                    .query(byte[].class)
                    .single();
            assertThat(line.get("payload")).isEqualTo(JSON.readTree(payload));
        }
    }

    @Test
    void aLineWithoutWhatIsAddedIsTheLeafOfTheLedger() throws IOException {
        for (JsonNode line : lines("/api/export/events.jsonl")) {
            JsonNode proved = farm.json("/api/ledger/event/" + line.get("id").asText());
            assertThat(line.get("leaf").asLong()).isEqualTo(proved.get("index").asLong());
            ObjectNode leaf = line.deepCopy();
            leaf.remove(List.of("leaf", "done", "heard"));
            assertThat(leaf).isEqualTo(JSON.readTree(proved.get("event").asText()));
            JsonNode told = line.get("payload").get("told");
            if (told != null) {
                assertThat(line.get("done")).isEqualTo(told.get("done"));
                assertThat(line.get("heard")).isEqualTo(told.get("heard"));
            }
        }
    }

    @Test
    void daysAreThoseOfTheFarm() throws IOException {
        // 22:00 UTC is midnight in South Africa.
        Instant from = Instant.parse("2026-11-25T22:00:00Z");
        Instant before = Instant.parse("2026-11-26T22:00:00Z");
        List<JsonNode> wanted = lines("/api/export/events.jsonl").stream()
                .filter(line -> {
                    Instant heard = Instant.parse(line.get("heard").asText());
                    return !heard.isBefore(from) && heard.isBefore(before);
                })
                .toList();

        assertThat(wanted).hasSizeGreaterThan(10);
        assertThat(lines("/api/export/events.jsonl?from=2026-11-26&to=2026-11-26"))
                .isEqualTo(wanted);
        assertThat(lines("/api/export/events.jsonl?from=2027-02-01")).isEmpty();
    }

    @Test
    void whatWasMadeUnreadableIsNotLeftOut() throws IOException {
        JsonNode last = lines("/api/export/events.jsonl").get(100);
        String id = last.get("id").asText();
        byte[] payload = database()
                .sql("select payload from event where event_id = ?")
                .param(id)
                .query(byte[].class)
                .single();
        database()
                .sql("update event set payload = ? where event_id = ?")
                .params(new byte[] {'{'}, id)
                .update();
        try {
            assertThat(lines("/api/export/events.jsonl").get(100))
                    .isEqualTo(JSON.createObjectNode()
                            .put("id", id)
                            .put("leaf", last.get("leaf").asInt())
                            .put("unreadable", true));
        } finally {
            database()
                    .sql("update event set payload = ? where event_id = ?")
                    .params(payload, id)
                    .update();
        }
    }

    /** A part was sent already, so that no fault can be answered: the connection is cut. */
    @Test
    void whatBreaksOffIsNotTakenForWhole() {
        String round = database()
                .sql("select round from history_tie_1 where tie = '004704'")
                .query(String.class)
                .single();
        String change = "update history_tie_1 set round = ? where tie = '004704'";
        database().sql(change).param("no round").update();
        try {
            assertThatThrownBy(() -> farm.get("/api/export/epcis.jsonld")).hasCauseInstanceOf(IOException.class);
        } finally {
            database().sql(change).param(round).update();
        }
        assertThat(farm.get("/api/export/epcis.jsonld").statusCode()).isEqualTo(200);
    }

    // ---- tables

    @Test
    void verdictsAreThoseOfThePages() throws IOException {
        Map<String, Set<List<String>>> findings = new HashMap<>();
        for (CSVRecord line : table("findings")) {
            findings.computeIfAbsent(line.get("tie"), tie -> new HashSet<>())
                    .add(List.of(
                            line.get("rule"),
                            line.get("result"),
                            line.get("grade"),
                            line.get("because"),
                            line.get("events")));
        }
        List<CSVRecord> fruit = table("fruit");

        assertThat(fruit)
                .extracting(line -> line.get("tie"))
                .containsExactly(
                        "004700", "004701", "004702", "004703", "004704", "004705", "004706", "004708", "004750",
                        "004751", "004800");
        for (CSVRecord line : fruit) {
            JsonNode known = farm.json("/api/fruit/" + line.get("tie") + "/verdict");
            assertThat(line.get("verdict")).isEqualTo(known.get("verdict").asText());
            assertThat(line.get("rules")).isEqualTo(known.get("rules").asText());
            assertThat(findings.get(line.get("tie")))
                    .isEqualTo(StreamSupport.stream(known.get("evidence").spliterator(), false)
                            .map(one -> List.of(
                                    one.get("rule").asText(),
                                    one.get("result").asText(),
                                    one.get("grade").asText(),
                                    one.get("because").asText(),
                                    StreamSupport.stream(one.get("events").spliterator(), false)
                                            .map(JsonNode::asText)
                                            .collect(Collectors.joining(" "))))
                            .collect(Collectors.toSet()));
            JsonNode view = farm.json("/api/fruit/" + line.get("tie"));
            assertThat(line.get("state")).isEqualTo(view.get("state").asText());
            assertThat(line.get("row")).isEqualTo(view.path("row").asText());
            assertThat(line.get("morning")).isEqualTo(view.path("morning").asText());
            assertThat(line.get("plant")).isEqualTo(view.path("plant").asText());
        }
    }

    @Test
    void actsAreThoseOfTheLog() throws IOException {
        List<CSVRecord> acts = table("acts");

        assertThat(acts)
                .extracting(line -> line.get("event"))
                .containsExactlyInAnyOrderElementsOf(database()
                        .sql("select event_id from event where " + EventLog.IS_ACT)
                        .query(String.class)
                        .list());
        assertThat(acts)
                .filteredOn(line -> line.get("standing").equals("false"))
                .extracting(line -> line.get("act") + " " + line.get("row"))
                .containsExactly("bagged 12");
        CSVRecord pollinated = acts.stream()
                .filter(line -> line.get("act").equals("pollinated")
                        && line.get("plant").equals("7"))
                .findFirst()
                .orElseThrow();
        assertThat(pollinated.get("sires")).isEqualTo("15.8 14.2");
        assertThat(pollinated.get("done")).isEqualTo("2026-11-26T06:40+02:00");
        assertThat(pollinated.get("zone")).isEqualTo("Africa/Johannesburg");
        assertThat(pollinated.get("worker")).isEqualTo("w1");
    }

    @Test
    void roundsAreThoseOfTheBoard() throws IOException {
        for (CSVRecord round : table("rounds")) {
            JsonNode row = farm.row(round.get("morning"), round.get("row"));
            for (String count : List.of("pegged", "males", "opened", "pollinated", "bagged", "tied", "lost", "left")) {
                assertThat(round.get(count)).as(count).isEqualTo(row.get(count).asText());
            }
            assertThat(round.get("questions_open"))
                    .isEqualTo(String.valueOf(row.get("questions").size()));
        }
        assertThat(table("rounds")).extracting(line -> line.get("row")).containsExactly("12", "13", "15");
    }

    @Test
    void whatIsAskedOfRowsAndFruitIsThere() throws IOException {
        List<String> asked = new ArrayList<>();
        for (JsonNode row : farm.json("/api/board?morning=2026-11-26").get("rows")) {
            asked(row.get("row").asText(), row, asked);
        }
        for (CSVRecord fruit : table("fruit")) {
            asked(fruit.get("tie"), farm.json("/api/fruit/" + fruit.get("tie")), asked);
        }

        assertThat(table("questions"))
                .extracting(line -> (line.get("tie").isEmpty() ? line.get("row") : line.get("tie")) + " "
                        + line.get("question") + line.get("settled_by") + line.get("settled_at"))
                .containsExactlyInAnyOrderElementsOf(asked);
        assertThat(asked)
                .contains("004708 tie 004708 is of another worker's stripw82026-12-04T09:00+02:00")
                .contains("13 1 opened, pollinated, bagged, tied at 10:30, after the limit 10:00");
    }

    private static void asked(String about, JsonNode view, List<String> asked) {
        view.get("questions")
                .forEach(one -> asked.add(about + " " + one.get("text").asText()));
        view.get("settled")
                .forEach(one -> asked.add(about + " " + one.get("text").asText()
                        + one.get("by").asText()
                        + one.get("at").asText().replace(":00+", "+")));
    }

    @Test
    void everyTieThatWasGivenOutIsThere() throws IOException {
        Map<String, List<String>> fates = table("ties").stream()
                .collect(Collectors.groupingBy(
                        line -> line.get("fate"), Collectors.mapping(line -> line.get("tie"), Collectors.toList())));

        // By hand: the ties that were put on, as the texts say.
        assertThat(fates.get("used"))
                .containsExactlyElementsOf(
                        table("fruit").stream().map(line -> line.get("tie")).toList());
        // By hand: 9 strips of 50 in demo-farm.json, and printed ones from 900003 to 900497: serials 90000 to 90049.
        assertThat(table("ties")).hasSize(9 * 50 + 50);
        assertThat(table("custody"))
                .hasSize(10)
                .allMatch(line -> line.get("event").equals("issued"));
    }

    @Test
    void whatWasEnteredOfLotsIsAllThereButForReasons() throws IOException {
        List<CSVRecord> lots = table("lot-entries");
        assertThat(lots)
                .extracting(line -> line.get("entry"), line -> line.get("event"), line -> line.get("withdrawn"))
                .containsExactly(
                        tuple("1", "lot-begun", "false"),
                        tuple("2", "fruit-taken", "false"),
                        tuple("3", "lot-weighed", "false"),
                        tuple("4", "seed-lost", "true"),
                        tuple("5", "grow-out-counted", "false"),
                        tuple("6", "lot-entry-withdrawn", "false"));
        assertThat(lots.get(1).get("ties")).isEqualTo("004703 004704");
        assertThat(lots.get(2).get("grams")).isEqualTo("400.5");
        assertThat(lots.get(2).get("moisture")).isEqualTo("7.5");
        assertThat(lots.get(4).get("counted")).isEqualTo("400/1");
        assertThat(lots.get(5).get("what")).isEqualTo("4");
        assertThat(lots).allMatch(line -> line.get("by").equals("w8"));
        assertThat(text("/api/export/lot-entries.csv")).doesNotContain("light seed", "weighed again");
    }

    @Test
    void workersAreThereByPseudonymOnly() throws IOException {
        List<CSVRecord> workers = table("workers");

        assertThat(workers)
                .extracting(line -> line.get("worker"))
                .startsWith("w1", "w2", "w3")
                .hasSize(8);
        assertThat(workers.get(0).get("flowers_tied")).isEqualTo("7");
        assertThat(workers.get(1).get("taken_back")).isEqualTo("1");
        assertThat(workers.get(3).get("first_heard")).isEmpty();
        for (String path : List.of(
                "events.jsonl",
                "epcis.jsonld",
                "acts.csv",
                "fruit.csv",
                "findings.csv",
                "questions.csv",
                "workers.csv",
                "custody.csv",
                "ties.csv",
                "rounds.csv",
                "lots.csv",
                "lot-entries.csv")) {
            assertThat(text("/api/export/" + path)).doesNotContainPattern("Nomsa|Pieter|Lerato|Ruth|1555555|lent it");
        }
    }

    @Test
    void whatASheetWouldTakeForAFormulaIsMadeHarmless() throws IOException {
        assertThat(table("plantings"))
                .filteredOn(line -> line.get("row").equals("12"))
                .extracting(line -> line.get("planting"), line -> line.get("cultivar"))
                .containsExactly(tuple("'" + FORMULA, CULTIVAR));
    }

    @Test
    void everyColumnIsDescribed() throws IOException {
        String described = Files.readString(Path.of("../docs/exports.md"));
        String page = farm.get("/export").body();
        for (String table : List.of(
                "rounds",
                "acts",
                "fruit",
                "findings",
                "questions",
                "ties",
                "custody",
                "workers",
                "plantings",
                "lots",
                "lot-fruit",
                "packets",
                "tests",
                "lot-entries")) {
            String header =
                    text("/api/export/" + table + ".csv").lines().findFirst().orElseThrow();
            assertThat(described).contains("### " + table + ".csv");
            String columns = described.substring(described.indexOf("### " + table + ".csv"));
            int end = columns.indexOf("###", 3);
            for (String column : header.split(",", -1)) {
                assertThat(end < 0 ? columns : columns.substring(0, end))
                        .as(table)
                        .containsPattern("\\b" + column + "\\b");
            }
            assertThat(page).contains("/api/export/" + table + ".csv");
        }
    }

    // ---- papers

    private static PDDocument pdf(String path) throws IOException {
        return Loader.loadPDF(farm.download(path));
    }

    private static String words(PDDocument document) throws IOException {
        return new PDFTextStripper().getText(document).replaceAll("\\s+", " ");
    }

    @Test
    void aPureFruitHasACertificate() throws Exception {
        JsonNode verdict = farm.json("/api/fruit/4703/verdict");
        assertThat(verdict.get("verdict").asText()).isEqualTo("pure");
        try (PDDocument document = pdf("/fruit/4703/certificate.pdf")) {
            String words = words(document);

            assertThat(words)
                    .contains("Certificate of what was recorded")
                    .contains("tie 004703")
                    .contains("As known at 25 Jan 2027 09:00, Africa/Johannesburg")
                    .contains("By rules 2, from what was reported.")
                    .contains("A tie records what a person did. Only a grow-out shows purity.")
                    .contains("Times are as they were reported, and estimates.")
                    .doesNotContainPattern("Nomsa|Pieter|Lerato|Ruth");
            for (JsonNode found : verdict.get("evidence")) {
                String rule = found.get("rule").asText().replace('-', ' ');
                assertThat(words.toLowerCase(Locale.ROOT)).contains(rule);
                for (String word : found.get("because").asText().split(" ", -1)) {
                    assertThat(words).contains(word);
                }
            }
            Checkpoint checkpoint = Checkpoint.parse(
                    Note.parse(farm.get("/api/ledger/checkpoint").body()).text());
            assertThat(words)
                    .contains(checkpoint.origin())
                    .contains(checkpoint.root().base64());
            assertThat(qr(document)).isEqualTo(farm.address("/fruit/004703"));
        }
    }

    private static String qr(PDDocument document) throws Exception {
        BufferedImage image = new PDFRenderer(document).renderImageWithDPI(0, 150);
        int[] pixels = image.getRGB(0, 0, image.getWidth(), image.getHeight(), null, 0, image.getWidth());
        return new QRCodeReader()
                .decode(new BinaryBitmap(
                        new HybridBinarizer(new RGBLuminanceSource(image.getWidth(), image.getHeight(), pixels))))
                .getText();
    }

    @ParameterizedTest
    @CsvSource({"4700,unfinished", "4702,not pure", "4708,in question"})
    void noOtherFruitHas(String tie, String verdict) throws IOException {
        HttpResponse<String> refused = farm.get("/fruit/" + tie + "/certificate.pdf");

        assertThat(refused.statusCode()).isEqualTo(409);
        assertThat(refused.body()).contains("No certificate for tie").contains(verdict);
        try (PDDocument document = pdf("/fruit/" + tie + "/history.pdf")) {
            assertThat(words(document))
                    .startsWith("Statement of record")
                    .contains(verdict)
                    .doesNotContain("Certificate");
        }
    }

    @Test
    void aHistoryTellsEveryActAndGoesOnOverPages() throws IOException {
        // Sixty reports of pegging in its row.
        try (PDDocument document = pdf("/fruit/4750/history.pdf")) {
            String words = words(document);
            JsonNode fruit = farm.json("/api/fruit/4750");

            assertThat(fruit.get("acts").size()).isGreaterThan(60);
            assertThat(words.split("pegged 1 of row 13|pegged its row", -1)).hasSizeGreaterThan(60);
            assertThat(document.getNumberOfPages()).isGreaterThan(2);
            assertThat(words).contains("page 1 of " + document.getNumberOfPages());
        }
    }

    @Test
    void aHistoryIsThatOfATime() throws IOException {
        try (PDDocument document = pdf("/fruit/4703/history.pdf?at=2026-11-26T07:00:00%2B02:00")) {
            assertThat(words(document))
                    .contains("unfinished")
                    .contains("As known at 26 Nov 2026 07:00")
                    .doesNotContain("harvested");
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"/fruit/4703/certificate.pdf", "/fruit/4703/history.pdf", "/fruit/4750/history.pdf"})
    void nothingOnAPaperIsOutsideItsMargins(String path) throws IOException {
        try (PDDocument document = pdf(path)) {
            // ISO 216: A4 is 210 mm by 297 mm; PDF counts in 1/72 inch.
            float unit = 72 / 25.4f;
            for (PDPage page : document.getPages()) {
                assertThat(page.getMediaBox().getWidth()).isCloseTo(210 * unit, within(0.5f));
                assertThat(page.getMediaBox().getHeight()).isCloseTo(297 * unit, within(0.5f));
                for (COSName font : page.getResources().getFontNames()) {
                    assertThat(page.getResources().getFont(font).isEmbedded()).isTrue();
                }
            }
            List<TextPosition> letters = new ArrayList<>();
            new PDFTextStripper() {
                @Override
                protected void processTextPosition(TextPosition letter) {
                    letters.add(letter);
                }
            }.getText(document);
            assertThat(letters)
                    .isNotEmpty()
                    .allMatch(letter -> letter.getXDirAdj() >= 20 * unit - 1
                            && letter.getXDirAdj() + letter.getWidthDirAdj() <= 190 * unit + 1
                            && letter.getYDirAdj() >= 20 * unit
                            && letter.getYDirAdj() <= 290 * unit);
            assertThat(document.getDocumentCatalog().getLanguage()).isEqualTo("en");
            assertThat(document.getDocumentInformation().getTitle()).contains(path.split("/", -1)[2]);
            assertThat(document.getDocumentCatalog().getMarkInfo().isMarked()).isTrue();
            assertThat(document.getDocumentCatalog().getStructureTreeRoot().getKids())
                    .isNotEmpty();
        }
    }

    @Test
    void lettersThatTheFontLacksAreBoxes() throws IOException {
        try (PDDocument document = pdf("/fruit/4703/certificate.pdf")) {
            assertThat(words(document)).contains("Ithangaelimhlophe Ñandú «Güicoyá» ŠďłĦő Ωμέγα Тыква □□ □");
        }
    }

    @Test
    void theSameKnowledgeGivesTheSameBytes() {
        String path = "/fruit/4703/history.pdf?at=2027-01-25T09:00:00%2B02:00";

        assertThat(farm.download(path)).isEqualTo(farm.download(path));
    }

    // ---- EPCIS

    private static Schema schema(String json) {
        return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_7).getSchema(json, InputFormat.JSON);
    }

    private static List<Error> wrong(Schema schema, String json) {
        return schema.validate(
                json,
                InputFormat.JSON,
                context -> context.executionConfig(config -> config.formatAssertionsEnabled(true)));
    }

    private static String ours() throws IOException {
        try (var in = ExportTest.class.getResourceAsStream("/epcis/as-we-write-it.json")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/fruit/4703/epcis.json",
                "/fruit/4702/epcis.json",
                "/fruit/4706/epcis.json",
                "/api/export/epcis.jsonld",
                "/api/export/epcis.jsonld?morning=2026-11-26"
            })
    void isEpcis(String path) throws IOException {
        assertThat(wrong(schema(ours()), text(path))).isEmpty();
    }

    /**
     * The schema that GS1 publishes, https://ref.gs1.org/standards/epcis/epcis-json-schema.json: it may not be copied into
     * this project, so whoever has a copy names it in {@code EPCIS_SCHEMA}.
     */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "/fruit/4703/epcis.json",
                "/fruit/4702/epcis.json",
                "/fruit/4706/epcis.json",
                "/api/export/epcis.jsonld",
                "/api/export/epcis.jsonld?morning=2026-11-26"
            })
    void isEpcisByThePublishedSchema(String path) throws IOException {
        String published = System.getenv("EPCIS_SCHEMA");
        Assumptions.assumeTrue(published != null, "EPCIS_SCHEMA names no copy of the published schema");

        assertThat(wrong(schema(Files.readString(Path.of(published))), text(path)))
                .isEmpty();
    }

    @Test
    void theSchemaSeesWhatIsWrong() throws IOException {
        // A schema that can't fail says nothing.
        String good = text("/fruit/4703/epcis.json");
        for (Map.Entry<String, String> change : Map.of(
                        "\"TransformationEvent\"", "\"TransformedEvent\"",
                        "\"commissioning\"", "\"tying\"",
                        "\"eventTimeZoneOffset\" : \"+02:00\"", "\"eventTimeZoneOffset\" : \"+2\"",
                        "\"OBSERVE\"", "\"SEE\"",
                        "\"duskpeg:worker\"", "\"worker\"",
                        "\"recordTime\" : \"2027-01-25T07:00:00Z\"", "\"recordTime\" : \"today\"")
                .entrySet()) {
            assertThat(good).contains(change.getKey());
            assertThat(wrong(schema(ours()), good.replace(change.getKey(), change.getValue())))
                    .as(change.getValue())
                    .isNotEmpty();
        }
    }

    @Test
    void anEventIsWhatTheHistoryTells() throws IOException {
        JsonNode document = JSON.readTree(text("/fruit/4703/epcis.json"));
        JsonNode fruit = farm.json("/api/fruit/4703");
        Map<String, JsonNode> events = new HashMap<>();
        for (JsonNode event : document.get("epcisBody").get("eventList")) {
            events.put(key(event.get("duskpeg:act"), event.get("duskpeg:text"), event.get("duskpeg:line")), event);
        }

        assertThat(fruit.get("acts").size()).isEqualTo(events.size()).isGreaterThan(5);
        for (JsonNode act : fruit.get("acts")) {
            JsonNode event = events.get(key(act.get("act"), act.get("text"), act.get("line")));
            assertThat(event.get("duskpeg:grade")).isEqualTo(act.get("grade"));
            assertThat(event.get("duskpeg:worker")).isEqualTo(act.get("worker"));
            assertThat(Instant.parse(event.get("eventTime").asText()))
                    .isEqualTo(OffsetDateTime.parse(act.get("at").asText()).toInstant());
            JsonNode proved = farm.json(
                    "/api/ledger/event/" + event.get("eventID").asText().replace("urn:uuid:", ""));
            assertThat(event.get("duskpeg:leaf").asLong())
                    .isEqualTo(proved.get("index").asLong());
            JsonNode leaf = JSON.readTree(proved.get("event").asText());
            assertThat(leaf.get("type")).isEqualTo(act.get("act"));
            assertThat(leaf.get("payload").get("told").get("text").asText())
                    .endsWith(act.get("text").asText());
        }
        JsonNode asked = JSON.readTree(text("/fruit/4708/epcis.json"))
                .get("duskpeg:about")
                .get(0)
                .get("duskpeg:questions");
        assertThat(asked.findValuesAsText("duskpeg:question"))
                .isEqualTo(farm.json("/api/fruit/4708").get("questions").findValuesAsText("text"));
        JsonNode about = document.get("duskpeg:about").get(0);
        assertThat(about.get("id").asText()).isEqualTo(BASE + "tie/004703");
        assertThat(about.get("duskpeg:verdict"))
                .isEqualTo(farm.json("/api/fruit/4703/verdict").get("verdict"));
    }

    private static String key(JsonNode act, JsonNode text, JsonNode line) {
        return act.asText() + " " + text.asText() + " " + line.asInt();
    }

    @Test
    void flowersBecomeFruitByTheirTies() throws IOException {
        JsonNode tied = null;
        JsonNode back = null;
        for (JsonNode event : JSON.readTree(text("/api/export/epcis.jsonld?morning=2026-11-26"))
                .get("epcisBody")
                .get("eventList")) {
            if (event.path("outputEPCList").toString().contains("tie/004703")) {
                tied = event;
            }
            if (event.has("errorDeclaration")) {
                back = event;
            }
        }

        assertThat(tied.get("inputQuantityList").toString())
                .isEqualTo("[{\"epcClass\":\"" + BASE + "row/12/2026-11-26\",\"quantity\":6}]");
        assertThat(tied.get("outputEPCList")).hasSize(6);
        assertThat(tied.get("readPoint").get("id").asText()).isEqualTo(BASE + "row/12");
        assertThat(back.get("duskpeg:act").asText()).isEqualTo("bagged");
        assertThat(back.get("errorDeclaration").get("declarationTime").asText()).isEqualTo("2026-11-26T04:40:00Z");
    }

    // ---- pages

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/export",
                "/fruit/4703",
                "/fruit/4702",
                "/fruit/4703?at=2026-11-26T07:00:00%2B02:00",
                "/fruit/4702/certificate.pdf"
            })
    void whatPagesOfferToDownloadIsThere(String path) {
        String page = farm.get(path).body();
        Matcher link = Pattern.compile("<a href=\"([^\"]*)\" download").matcher(page);
        List<String> offered = new ArrayList<>();
        while (link.find()) {
            String address = link.group(1).replace("&amp;", "&");
            offered.add(address);
            assertThat(farm.get(address).statusCode()).as(address).isEqualTo(200);
        }
        assertThat(offered).isNotEmpty();
        assertThat(page.contains("/certificate.pdf\"")).isEqualTo(path.equals("/fruit/4703"));
    }

    @Test
    void theStatementOfferedIsOfTheTimeOfThePage() {
        assertThat(farm.get("/fruit/4703?at=2026-11-26T07:00:00%2B02:00").body())
                .contains("/fruit/004703/history.pdf?at=2026-11-26T07:00%2B02:00");
        assertThat(farm.get("/fruit/4703").body()).contains("/fruit/004703/history.pdf\"");
    }

    // ---- what can't be read

    @ParameterizedTest
    @CsvSource({
        "/api/export/events.jsonl?from=yesterday,400",
        "/api/export/events.jsonl?to=2026-02-30,400",
        "/api/export/events.jsonl?from=2026-11-27&to=2026-11-26,400",
        "/api/export/events.jsonl?farm=nowhere,404",
        "/api/export/epcis.jsonld?morning=26.11.2026,400",
        "/api/export/nothing.csv,404",
        "/api/export/fruit.csv?farm=%27,404",
        "/fruit/4799/epcis.json,404",
        "/fruit/4799/certificate.pdf,404",
        "/fruit/99999999999999999999/history.pdf,404",
        "/fruit/x/certificate.pdf,404",
        "/fruit/4703/history.pdf?at=yesterday,400",
        "/fruit/4703/history.pdf?at=%2B999999999-12-31T23:59:59Z,400",
        "/fruit/4703/history.pdf?rules=0,400",
        "/fruit/4703/history.pdf?at=2020-01-01T00:00:00Z,404"
    })
    void whatCannotBeReadGetsAShortAnswer(String path, int status) {
        HttpResponse<String> answer = farm.get(path);

        assertThat(answer.statusCode()).isEqualTo(status);
        assertThat(answer.headers().firstValue("Content-Disposition").orElse(""))
                .doesNotContain("duskpeg");
        if (path.startsWith("/api/") || path.endsWith(".json")) {
            assertThat(answer.headers().firstValue("Content-Type")).hasValue("application/problem+json");
            assertThat(answer.body()).hasSizeLessThan(400);
        }
    }
}
