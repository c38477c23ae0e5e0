package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.FarmNumbers;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.OutgoingTexts;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.core.io.FileSystemResource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/**
 * Two farms in one database. Everybody of one asks for everything there is, with all that is the other's in path, query and
 * form: nothing of the other is in any answer, nothing of it changes, and what it has is answered as what nobody has. The
 * other farm's words begin with {@code qx}, or with {@code zz} where a request says them.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class TwoFarmsTest {

    private static final FarmId OWN = new FarmId("marrowfield");
    private static final FarmId OTHER = new FarmId("qxhill");
    private static final String OWN_NUMBER = "+15555550180";
    private static final String OTHER_NUMBER = "+15555550190";
    private static final String NOMSA = "+15555550101";
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final Pattern TOKEN = Pattern.compile("/auditor/([0-9A-Za-z_-]{16,})");

    /** Words of the other farm that no request says; its ties but the one that requests name. */
    private static final Pattern SECRET = Pattern.compile("(?i)qx[a-z]|77100[1-9]|\\+?155555501[79]");

    /** Hashes and signatures, in which any three letters may stand. */
    private static final Pattern BASE64 = Pattern.compile("[A-Za-z0-9+/]{40,}=");

    private static final Pattern VARIES = Pattern.compile(
            "[0-9]{2}:[0-9]{2}(:[0-9]{2}([.][0-9]+)?)?Z?|\\b[0-9]+ s\\b| (d|x|y|cx|cy|x1|x2|y1|y2|width|height|points)=\"[^\"]*\"");

    private static final String FILE = """
        {"farm": "qxhill", "zone": "Africa/Johannesburg", "target": "09:00", "limit": "10:00", "tieWidth": 6,
         "place": {"latitude": -27.7, "longitude": 29.7},
         "numbers": ["+15555550190", "+15555550191"],
         "plantings": [
          {"name": "Qxterrace", "cultivar": "Zzamber", "species": "PEPO", "firstRow": 191, "lastRow": 193,
           "plantsPerRow": 40, "stock": "QXS-1"},
          {"name": "Qxditch", "cultivar": "Qxgrey", "species": "MAXIMA", "firstRow": 194, "lastRow": 194,
           "plantsPerRow": 40}],
         "neighbours": [{"planting": "Qxterrace", "name": "Qxgardens", "species": "PEPO", "metres": 717}],
         "workers": [
          {"worker": "w71", "name": "Qxwinnie", "phone": "+15555550171", "language": "en", "role": "CREW",
           "strips": [{"first": "771000", "last": "771049"}]},
          {"worker": "w72", "name": "Qxnomsa", "phone": "+15555550101", "language": "en", "role": "CREW",
           "strips": [{"first": "771050", "last": "771099"}]},
          {"worker": "w73", "name": "Qxstray", "phone": "+15555550165", "language": "en", "role": "CREW", "strips": []},
          {"worker": "w78", "name": "Qxruth", "phone": "+15555550178", "language": "en", "role": "SUPERVISOR",
           "strips": []}]}
        """;

    /** What is asked with: a name that {@link #sent} knows, or name=value. Who adds an endpoint adds a line. */
    private static final String LINES = """
        GET / |
        GET /accounts |
        GET /accounts/notes |
        GET /alerts | planting=Zzterrace kind=SPRAY
        GET /api |
        GET /api/alerts |
        GET /api/audit/bundle | tie
        GET /api/audit/bundle | row morning
        GET /api/board | morning
        GET /api/board/stream | morning
        GET /api/bulk | cultivar grams=100
        GET /api/cull | day
        GET /api/export/epcis.jsonld | morning
        GET /api/export/events.jsonl |
        GET /api/export/{table}.csv | {table}=fruit
        GET /api/export/{table}.csv | {table}=acts
        GET /api/farm |
        GET /api/figures |
        GET /api/forecast | morning
        GET /api/fruit | row morning
        GET /api/fruit | worker
        GET /api/fruit | cultivar
        GET /api/fruit/{tie} | {tie}
        GET /api/fruit/{tie}/verdict | {tie}
        GET /api/harvest | day
        GET /api/inbox |
        GET /api/inbox/waiting |
        GET /api/ledger/checkpoint |
        GET /api/ledger/consistency | from=1 to=2
        GET /api/ledger/event/{id} | {event}
        GET /api/ledger/key |
        GET /api/lot/{lot} | {lot}
        GET /api/lots |
        GET /api/moves | morning
        GET /api/outbox |
        GET /api/pairing | cultivar morning
        GET /api/people |
        GET /api/plan | morning
        GET /api/plantings |
        GET /api/reckon | lot
        GET /api/row/{row}/{morning} | {row} {morning}
        GET /api/season | year
        GET /api/season.csv | year
        GET /api/strips |
        GET /api/strips/{tie} | {tie}
        GET /api/trace | tie
        GET /api/trace | lot
        GET /api/trace | packet
        GET /api/window | date
        GET /auditors |
        GET /board | morning
        GET /board/live | morning
        GET /board/mornings |
        GET /board/moves | morning
        GET /board/stream | morning
        GET /bulk | cultivar
        GET /cull | day
        GET /export |
        GET /figures |
        GET /find | row morning
        GET /find | worker
        GET /find | cultivar
        GET /fruit | tie
        GET /fruit/{tie} | {tie}
        GET /fruit/{tie}/certificate.pdf | {tie}
        GET /fruit/{tie}/epcis.json | {tie}
        GET /fruit/{tie}/history.pdf | {tie}
        GET /harvest | day
        GET /health |
        GET /inbox | text line=1
        GET /lot/{lot} | {lot}
        GET /lots |
        GET /metrics |
        GET /operations |
        GET /outbox |
        GET /pairing | cultivar morning
        GET /people |
        GET /people/{worker} | {worker}
        GET /phone |
        GET /phone/received | phone after=0
        GET /phone/received | shared after=0
        GET /plan | morning
        GET /plantings |
        GET /reckon | lot
        GET /row/{row}/{morning} | {row} {morning}
        GET /season | year
        GET /strips |
        GET /strips/print | from=771000 count=2
        GET /strips/{tie} | {tie}
        GET /trace | of
        POST /accounts | login=zzlogin role=worker worker
        POST /accounts/{id}/code | {account}
        POST /accounts/{id}/disable | {account}
        POST /accounts/{id}/enable | {account}
        POST /accounts/{id}/second | {account}
        POST /accounts/{id}/worker | {account} worker
        POST /alerts/caution | kind=SPRAY planting=Zzterrace from= until=2099-01-01T06:00
        POST /alerts/look | morning
        POST /alerts/withdraw | kind=SPRAY planting=Zzterrace from= until=2099-01-01T06:00
        POST /auditors | scope=fruit about=771000 days=30 whom=somebody
        POST /auditors/{id}/withdraw | {link}
        POST /board/moves | morning worker row left=1
        POST /bulk | cultivar grams=100 to=ZZ-LOT
        POST /cull/looked | rows=191 on
        POST /figures/change | figure=germination value=1 source=zz edition=zz
        POST /figures/choose | germination=none
        POST /figures/file | csv=zz
        POST /harvest/temperatures | csv=zz
        POST /inbox/as-reported | subject question note=zz
        POST /inbox/nothing | text line=1 how=NOTHING
        POST /inbox/read | text line=1 words=1 worker
        POST /inbox/sender | text worker
        POST /lot/{lot}/{what} | {lot} {what}=take ties=771000
        POST /lot/{lot}/{what} | {lot} {what}=draw to=ZZ-LOT grams=10
        POST /lot/{lot}/{what} | {lot} {what}=weigh grams=10
        POST /lots | lot cultivar
        POST /lots/weights | csv=zz
        POST /operations/parked | projection=board subject
        POST /outbox/{id}/again | {outgoing}
        POST /outbox/{id}/drop | {outgoing}
        POST /people/{worker}/erase | {worker} confirm=w71 also
        POST /plan/roster | morning crew=w71 start=06:00
        POST /plan/tell | morning
        POST /plantings/near | planting=Zzterrace name=zz species=PEPO metres=10
        POST /plantings/plan | csv=zz
        POST /strips/damaged | worker first=771010 last=771010
        POST /strips/hand-over | worker to=w1 first=771010 last=771019
        POST /strips/issue | worker first=771010 last=771019
        POST /strips/lost | worker first=771010 last=771019
        POST /strips/return | worker first=771010 last=771019
        """;

    /** What nobody is signed in to ask, and why. */
    private static final Map<String, String> NOT_ASKED = Map.ofEntries(
            Map.entry("GET /auditor/{token}/{*path}", "the link is the key, whoever has it"),
            Map.entry("GET /error", "says what went wrong with another request"),
            Map.entry("POST /error", "says what went wrong with another request"),
            Map.entry("GET /signin, POST /signin", "makes somebody somebody else"),
            Map.entry("GET /first, POST /first", "a code is for one farm"),
            Map.entry("GET /password, POST /password", "a code is for one account; else one's own"),
            Map.entry("POST /signout", "ends one's own session"),
            Map.entry(
                    "GET /second, POST /second/begin, POST /second/confirm, POST /second/codes, POST /second/end",
                    "one's own factor"),
            Map.entry("GET /sessions, POST /sessions/end", "one's own sessions"),
            Map.entry("POST /confirm", "asks for one's own password"),
            Map.entry("POST /operations/rebuild", "makes all farms' boards anew, and tells nothing of them"),
            Map.entry(
                    "POST /field/text, POST /field/voice, POST /field/status",
                    "signed by the carrier; routed by number"),
            Map.entry("GET /field/voice/recordings/{language}/{file}", "the server's own recordings"),
            Map.entry(
                    "POST /witness/add-checkpoint, GET /witness/key", "signed by other ledgers; the server's own key"));

    private final HttpClient http = HttpClient.newHttpClient();
    private final List<String> database = Engine.POSTGRESQL.settings();
    private final Map<String, String> sent = new LinkedHashMap<>();
    private final Map<String, String> nobodys = new LinkedHashMap<>();
    private final Map<String, String> cookies = new TreeMap<>();
    private SignInFarm farm;
    private Path file;
    private String supervisor;
    private LocalDate today;

    @BeforeAll
    void open() throws IOException {
        file = Files.createTempFile("qxhill", ".json");
        Files.writeString(file, FILE);
        farm = new SignInFarm(database).withAccounts();
        SignInFarm.ROLES.keySet().forEach(role -> cookies.put(role, farm.signIn(role)));
        today = LocalDate.now(ZoneId.of("Africa/Johannesburg"));
    }

    @AfterAll
    void close() {
        farm.close();
    }

    private String command(int status, String content) throws IOException {
        Files.writeString(file, content);
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        List<String> arguments = new ArrayList<>(List.of("farm", file.toString(), "--duskpeg.demo=false"));
        arguments.addAll(database);
        PrintStream out = new PrintStream(said, true, StandardCharsets.UTF_8);
        PrintStream console = System.out;
        System.setOut(out);
        try {
            assertThat(FarmCommand.run(new SpringApplicationBuilder(Duskpeg.class), arguments, out))
                    .as(said.toString(StandardCharsets.UTF_8))
                    .isEqualTo(status);
        } finally {
            System.setOut(console);
        }
        return said.toString(StandardCharsets.UTF_8);
    }

    private String text(String from, String to, String words) {
        return text(from, to, words, TestFarm.newSid());
    }

    private String text(String from, String to, String words, String sid) {
        return TestFarm.message(farm.farm
                .post(Map.of("From", from, "To", to, "Body", words, "MessageSid", sid))
                .body());
    }

    private JdbcClient jdbc() {
        return farm.farm.bean(JdbcClient.class);
    }

    @Test
    @Order(1)
    void theOperatorAddsAFarmWhileTheServerGoesOn() throws IOException {
        String said = command(0, FILE);
        assertThat(said).contains("Entered: qxhill, texted and called at +15555550190, +15555550191");
        assertThat(farm.farm.bean(Index.class).farms()).containsExactly(OWN, OTHER);
        String other = SignInFarm.cookie(farm.post(
                "",
                "/first",
                Map.of("code", SignInFarm.code(said), "login", "qxowner", "password", "a long qx walk 1")));
        String made = farm.post(other, "/accounts", Map.of("login", "qxsuper", "role", "supervisor", "worker", "w78"))
                .body();
        supervisor = SignInFarm.cookie(
                farm.post("", "/password", Map.of("code", SignInFarm.code(made), "password", "a long qx walk 2")));
        assertThat(farm.get(supervisor, "/api/people").body())
                .contains("Qxwinnie")
                .doesNotContain("Nomsa\"");

        // Once more: it is there, and only its numbers are what the file says.
        FarmFile again = farm.farm.bean(FarmFile.class);
        Files.writeString(file, FILE.replace(", \"+15555550191\"", ""));
        assertThat(again.enter(new FileSystemResource(file)))
                .isEqualTo(new FarmFile.Done(OTHER, false, List.of(OTHER_NUMBER)));
        Files.writeString(file, FILE.replace("qxhill", "third"));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> again.enter(new FileSystemResource(file)))
                .withMessage("+15555550190 is the number of qxhill");
        assertThat(farm.farm.bean(Index.class).farms()).containsExactly(OWN, OTHER);
        farm.farm
                .bean(TransactionTemplate.class)
                .executeWithoutResult(
                        status -> farm.farm.bean(FarmNumbers.class).set(OWN, List.of(OWN_NUMBER)));
        assertThat(farm.farm.bean(FarmNumbers.class).of(OTHER)).isEqualTo(OTHER_NUMBER);
    }

    @Test
    @Order(2)
    void theNumberThatIsTextedSaysWhichFarmIsMeant() {
        // Nomsa is on both crew lists; row 12 is here, row 191 there.
        assertThat(text(NOMSA, OWN_NUMBER, "1 12 4 m 8")).startsWith("Row 12: 4 pegged");
        assertThat(text(NOMSA, OTHER_NUMBER, "1 191 4 m 8")).startsWith("Row 191: 4 pegged");
        assertThat(text(NOMSA, OTHER_NUMBER, "1 12 4 m 8")).doesNotContain("pegged");
        // A number that is no farm's: the crew list, of two the first.
        assertThat(text("+15555550171", "+15555550100", "1 192 3 m 6")).startsWith("Row 192: 3 pegged");
        assertThat(text(NOMSA, "+15555550100", "1 13 2 m 4")).startsWith("Row 13: 2 pegged");
        // To a farm that doesn't know her she is a stranger, whoever she is elsewhere.
        String sid = TestFarm.newSid();
        String stranger = text("+15555550165", OWN_NUMBER, "1 191 1 m 2", sid);
        assertThat(stranger).doesNotContain("pegged");
        assertThat(text("+15555550165", OTHER_NUMBER, "1 191 1 m 2", sid)).isEqualTo(stranger);
        assertThat(jdbc().sql("select count(*) from field_text where text_id = ?")
                        .param(sid)
                        .query(Long.class)
                        .single())
                .isEqualTo(1);
        assertThat(text("+15555550171", OTHER_NUMBER, "2345 191 3")).contains("tied 771000-771002");
        text("+15555550171", OTHER_NUMBER, "qxgibberish qxwords");
        // A row of neither count: there is something to ask.
        text("+15555550171", OTHER_NUMBER, "1 193 9 m 2");
    }

    @Test
    @Order(3)
    void aCallIsTheFarmsWhoseNumberWasCalled() {
        for (String[] one : new String[][] {{OWN_NUMBER, "12", "marrowfield"}, {OTHER_NUMBER, "191", "qxhill"}}) {
            String sid = "CA" + one[1];
            String answer = farm.farm
                    .post(
                            "/field/voice?step=report&report=1&tries=1",
                            Map.of(
                                    "CallSid",
                                    sid,
                                    "From",
                                    NOMSA,
                                    "To",
                                    one[0],
                                    "Direction",
                                    "inbound",
                                    "Digits",
                                    "9*" + one[1]))
                    .body();
            assertThat(answer).contains("<Response>");
            assertThat(jdbc().sql("select farm from field_text where text_id like ?")
                            .param(sid + "%")
                            .query(String.class)
                            .list())
                    .containsExactly(one[2]);
        }
    }

    private void fill() throws IOException {
        farm.farm.awaitProjections();
        for (String lot : List.of("ZZ-LOT", "QXB-LOT")) {
            assertThat(farm.post(supervisor, "/lots", Map.of("lot", lot, "cultivar", "Zzamber"))
                            .statusCode())
                    .isEqualTo(302);
        }
        Matcher token = TOKEN.matcher(farm.post(
                        supervisor,
                        "/auditors",
                        Map.of("scope", "fruit", "about", "771000", "days", "30", "whom", "the qxboard"))
                .body());
        assertThat(token.find()).isTrue();
        farm.farm.bean(TransactionTemplate.class).executeWithoutResult(status -> {
            Outbox outbox = farm.farm.bean(Outbox.class);
            outbox.post(OTHER, "+15555550171", "qxtelling", "one", true, Instant.now());
            outbox.post(OTHER, NOMSA, "qxtelling nomsa", "two", true, Instant.now());
            outbox.post(OWN, NOMSA, "telling nomsa", "three", true, Instant.now());
        });
        Instant end = Instant.now().plusSeconds(30);
        while (farm.farm.bean(OutgoingTexts.class).newest(OTHER, 9).stream().anyMatch(one -> one.delivered() == null)) {
            assertThat(Instant.now()).isBefore(end);
            Thread.onSpinWait();
        }
        farm.farm.awaitProjections();
        JsonNode waiting = JSON.readTree(farm.get(supervisor, "/api/inbox").body());
        assertThat(waiting.toString()).contains("qxgibberish");
        sent.putAll(Map.of(
                "tie", "771000",
                "row", "191",
                "morning", today.toString(),
                "worker", "w71",
                "cultivar", "Zzamber",
                "lot", "ZZ-LOT",
                "packet", "ZZ-LOT.1",
                "phone", "+15555550171",
                "shared", NOMSA,
                "of", "771000"));
        sent.putAll(Map.of(
                "day", today.toString(),
                "date", today.toString(),
                "on", today.toString(),
                "year", String.valueOf(today.getYear()),
                "question", "males-short",
                "subject", "qxhill/row/193/" + today,
                "account", id("select max(id) from account where farm = 'qxhill' and role = 'supervisor'"),
                "link", id("select max(id) from auditor_link where farm = 'qxhill'"),
                "outgoing", id("select max(id) from outgoing where farm = 'qxhill'"),
                "event",
                        jdbc().sql("select max(event_id) from ledger_leaf where farm = 'qxhill'")
                                .query(String.class)
                                .single()));
        sent.put(
                "text",
                jdbc().sql(
                                "select max(text_id) from field_text where farm = 'qxhill' and unread > 0 and words like 'qx%'")
                        .query(String.class)
                        .single());
        sent.put("also", "text/" + sent.get("text"));
        nobodys.putAll(sent);
        nobodys.putAll(Map.of(
                "tie", "772000",
                "row", "195",
                "worker", "w79",
                "cultivar", "Zznone",
                "lot", "ZY-LOT",
                "packet", "ZY-LOT.1",
                "phone", "+15555550179",
                "of", "772000",
                "text", "SMnobodys"));
        nobodys.putAll(Map.of("account", "999999", "link", "999999", "outgoing", "999999", "event", "no-such-event"));
    }

    private String id(String sql) {
        return String.valueOf(jdbc().sql(sql).query(Long.class).single());
    }

    /** A line asked by somebody, with the values of one list. */
    private record Asked(String method, String path, Map<String, String> values, List<String> said) {

        static Asked of(String line, Map<String, String> known) {
            String[] parts = line.split("\\|", 2);
            String method = parts[0].strip().split(" ")[0];
            String path = parts[0].strip().split(" ")[1];
            Map<String, String> values = new LinkedHashMap<>();
            List<String> said = new ArrayList<>();
            for (String part : parts[1].strip().split(" ")) {
                if (part.isEmpty()) {
                    continue;
                }
                boolean inPath = part.startsWith("{");
                String name = part.replaceAll("[{}]|=.*", "");
                String value = part.contains("=") ? part.substring(part.indexOf('=') + 1) : known.get(name);
                assertThat(value).as(line + ": " + name).isNotNull();
                said.add(value);
                if (inPath) {
                    String before = path;
                    path = path.replace(path.contains("{" + name + "}") ? "{" + name + "}" : "{id}", encoded(value));
                    assertThat(path).as(line).isNotEqualTo(before);
                } else {
                    values.put(name.equals("shared") ? "phone" : name, value);
                }
            }
            return new Asked(method, path, values, said);
        }

        private static String encoded(String value) {
            return URLEncoder.encode(value, StandardCharsets.UTF_8);
        }

        Asked on(FarmId farm) {
            Map<String, String> more = new LinkedHashMap<>(values);
            more.put("farm", farm.value());
            return new Asked(method, path, more, said);
        }

        String address() {
            return method.equals("GET") && !values.isEmpty() ? path + "?" + SignInFarm.body(values) : path;
        }
    }

    private HttpResponse<String> ask(String cookie, Asked asked) throws IOException {
        return asked.path().endsWith("/stream")
                ? stream(cookie, asked)
                : asked.method().equals("GET")
                        ? farm.get(cookie, asked.address())
                        : farm.post(cookie, asked.path(), asked.values());
    }

    /** The first event, or what is said instead. */
    private HttpResponse<String> stream(String cookie, Asked asked) throws IOException {
        try {
            HttpResponse<InputStream> answer = http.send(
                    HttpRequest.newBuilder(URI.create(farm.farm.address(asked.address())))
                            .header("Cookie", cookie)
                            .build(),
                    BodyHandlers.ofInputStream());
            StringBuilder event = new StringBuilder();
            try (InputStream in = answer.body()) {
                for (int next = in.read(); next >= 0 && event.indexOf("\n\n") < 0; next = in.read()) {
                    event.append((char) next);
                }
            }
            return new Told(answer, event.toString());
        } catch (InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    /** An answer whose body was read as far as it is wanted. */
    private record Told(HttpResponse<?> head, String body) implements HttpResponse<String> {
        @Override
        public int statusCode() {
            return head.statusCode();
        }

        @Override
        public HttpRequest request() {
            return head.request();
        }

        @Override
        public java.util.Optional<HttpResponse<String>> previousResponse() {
            return java.util.Optional.empty();
        }

        @Override
        public java.net.http.HttpHeaders headers() {
            return head.headers();
        }

        @Override
        public java.util.Optional<javax.net.ssl.SSLSession> sslSession() {
            return java.util.Optional.empty();
        }

        @Override
        public URI uri() {
            return head.uri();
        }

        @Override
        public HttpClient.Version version() {
            return head.version();
        }
    }

    /** All that is kept of a farm, table by table; who is signed in is not of a farm. */
    private Map<String, List<String>> kept(FarmId of) {
        Map<String, List<String>> kept = new TreeMap<>();
        jdbc().sql("select table_name from information_schema.columns where column_name = 'farm'"
                        + " and table_schema = 'public'")
                .query(String.class)
                .list()
                .forEach(table -> kept.put(
                        table,
                        jdbc().sql("select cast(t as varchar) from " + table + " t where farm = ? order by 1")
                                .param(of.value())
                                .query(String.class)
                                .list()));
        kept.put(
                "event",
                jdbc().sql("select event_id from event where stream = ? or stream like ? order by 1")
                        .params(of.value(), of.value() + "/%")
                        .query(String.class)
                        .list());
        return kept;
    }

    private static String difference(String one, String other) {
        int from = 0;
        while (from < Math.min(one.length(), other.length()) && one.charAt(from) == other.charAt(from)) {
            from++;
        }
        int begin = Math.max(0, from - 30);
        return ": " + one.substring(begin, Math.min(one.length(), from + 60)) + " | "
                + other.substring(begin, Math.min(other.length(), from + 60));
    }

    /** Without what was said in the asking, and what every second is another. */
    private static String plain(String body, Asked asked) {
        String plain = body;
        for (String said : asked.said()) {
            plain = plain.replace(said, "#");
        }
        return VARIES.matcher(plain).replaceAll("-");
    }

    @Test
    @Order(4)
    void whoeverAsksForTheOtherFarmsThingsFindsNothingAndChangesNothing() throws IOException {
        fill();
        Map<String, List<String>> before = kept(OTHER);
        assertThat(before.get("board_act_1")).isNotEmpty();
        assertThat(before.get("lot_entry")).hasSize(2);
        // What the test looks for is there to be found by whoever may.
        assertThat(SECRET.matcher(farm.get(supervisor, "/api/board?morning=" + today)
                                .body())
                        .find())
                .isTrue();
        assertThat(SECRET.matcher(farm.get(supervisor, "/phone/received?phone=%2B15555550101")
                                .body())
                        .find())
                .isTrue();

        List<String> wrong = new ArrayList<>();
        int answered = 0;
        // What is entered comes after what is asked: a lot of the other's name may well be begun here.
        for (String method : List.of("GET", "POST")) {
            for (String line :
                    LINES.lines().filter(one -> one.startsWith(method)).toList()) {
                for (Map.Entry<String, String> who : cookies.entrySet()) {
                    Asked asked = Asked.of(line, sent);
                    HttpResponse<String> answer = ask(who.getValue(), asked);
                    if (answer.statusCode() == 403) {
                        continue;
                    }
                    answered++;
                    Matcher secret =
                            SECRET.matcher(BASE64.matcher(answer.body()).replaceAll(""));
                    if (secret.find()) {
                        wrong.add(who.getKey() + " " + asked + " is told " + secret.group());
                    }
                    if (answer.statusCode() >= 500) {
                        wrong.add(who.getKey() + " " + asked + " " + answer.statusCode());
                    }
                    if (method.equals("GET") && who.getKey().equals("owner")) {
                        Asked other = Asked.of(line, nobodys);
                        HttpResponse<String> nothing = ask(who.getValue(), other);
                        String mine = plain(answer.body(), asked);
                        // What the crew can do is another number as time goes by; what is told is told again.
                        for (int i = 0; i < 3 && !mine.equals(plain(nothing.body(), other)); i++) {
                            mine = plain(ask(who.getValue(), asked).body(), asked);
                            nothing = ask(who.getValue(), other);
                        }
                        // Metrics move on by themselves; they are of the server, and have nothing of any farm.
                        boolean same = mine.equals(plain(nothing.body(), other))
                                || asked.path().equals("/metrics");
                        if (answer.statusCode() != nothing.statusCode() || !same) {
                            wrong.add(asked + " is answered otherwise than what nobody has: " + answer.statusCode()
                                    + " and " + nothing.statusCode() + difference(mine, plain(nothing.body(), other)));
                        }
                    }
                    // Whoever it is, that is seen to before anything else.
                    int there = who.getKey().equals("owner")
                            ? ask(who.getValue(), asked.on(OTHER)).statusCode()
                            : 403;
                    if (there != 403) {
                        wrong.add(asked.on(OTHER) + " " + there);
                    }
                }
            }
        }
        for (String cookie : cookies.values()) {
            assertThat(farm.get(cookie, "/?farm=qxhill").statusCode()).isEqualTo(403);
        }
        farm.farm.awaitProjections();
        assertThat(wrong).isEmpty();
        assertThat(answered).isGreaterThan(150);
        assertThat(kept(OTHER)).isEqualTo(before);
    }

    @Test
    @Order(5)
    void everyEndpointHasALine() {
        Set<String> there = new TreeSet<>();
        farm.farm
                .bean(RequestMappingHandlerMapping.class)
                .getHandlerMethods()
                .keySet()
                .forEach(mapping -> mapping.getPatternValues().forEach(pattern -> {
                    Set<?> methods = mapping.getMethodsCondition().getMethods();
                    (methods.isEmpty() ? Set.of("GET", "POST") : methods)
                            .forEach(method -> there.add(method + " " + pattern));
                }));
        Set<String> asked = new TreeSet<>();
        LINES.lines().forEach(line -> asked.add(line.split("\\|")[0].strip()));
        NOT_ASKED.keySet().forEach(some -> asked.addAll(List.of(some.split(", "))));
        asked.remove("GET /api/farm"); // In a demo only, where everybody sees everything.
        assertThat(there).isEqualTo(asked);
    }

    @Test
    @Order(6)
    void whoIsSignedInIsSignedInOnEveryNodeAndAfterARestart() throws IOException {
        try (SignInFarm second = new SignInFarm(database)) {
            assertThat(second.get(supervisor, "/api/people").body()).contains("Qxwinnie");
            assertThat(second.get(cookies.get("supervisor"), "/api/people").body())
                    .contains("Pieter")
                    .doesNotContain("Qxwinnie");
            assertThat(second.post(supervisor, "/signout", Map.of()).statusCode())
                    .isEqualTo(302);
            assertThat(farm.get(supervisor, "/").statusCode()).isEqualTo(401);
        }
        farm.restart();
        assertThat(farm.get(cookies.get("owner"), "/accounts").statusCode()).isEqualTo(200);
    }
}
