import duskpeg.core.ledger.Appender;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Tiles;
import duskpeg.core.store.StoredEvents;
import duskpeg.core.store.StoredEvents.Place;
import duskpeg.core.store.StoredEvents.Stored;
import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.flywaydb.core.Flyway;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;

/**
 * A server with a season of so many events behind it, and little memory: how long it takes to start, and what every page
 * that a supervisor or an auditor opens takes of time and heap. See {@code docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench:projections/target/duskpeg.jar Season --events 1000000 [--heap 256m] [--times 5]
 *     [--patience 600] [--pages /season,/cull] [--port 0] [--keep folder] [--jar projections/target/duskpeg.jar]
 * </pre>
 *
 * With {@code --keep} the season stays in that folder and is taken from there the next time.
 */
final class Season {

    private static final LocalDate MORNING = InventedSeason.FIRST.plusDays(InventedSeason.MORNINGS / 2);
    /** After the last ties were brought in. */
    private static final LocalDate AFTER = InventedSeason.FIRST.plusDays(2L * InventedSeason.MORNINGS);

    private static final Pattern COLLECTED = Pattern.compile("(\\d+)M->(\\d+)M\\((\\d+)M\\)");
    private static final int LOT_TIES = 300;
    private static final int BATCH = 500;

    private final Map<String, String> options = new LinkedHashMap<>();
    private final Path jar;
    private final String heap;
    private final String port;
    private int failed;

    private Season(String[] arguments) {
        for (int i = 0; i + 1 < arguments.length; i += 2) {
            options.put(arguments[i].substring(2), arguments[i + 1]);
        }
        jar = Path.of(options.getOrDefault("jar", "projections/target/duskpeg.jar"));
        port = "--server.port=" + options.getOrDefault("port", "0");
        heap = options.getOrDefault("heap", "256m");
    }

    public static void main(String[] arguments) throws Exception {
        ((ch.qos.logback.classic.Logger) org.slf4j.LoggerFactory.getLogger("ROOT"))
                .setLevel(ch.qos.logback.classic.Level.WARN);
        Season season = new Season(arguments);
        String kept = season.options.get("keep");
        String events = season.options.getOrDefault("events", "1000000");
        Path work = kept == null ? Files.createTempDirectory("duskpeg-season-") : Path.of(kept, events);
        Files.createDirectories(work);
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            Server.destroyAll();
            if (kept == null) {
                Machine.delete(work);
            }
        }));
        season.run(work.toAbsolutePath(), Integer.parseInt(events));
        System.exit(season.failed == 0 ? 0 : 1);
    }

    private void run(Path work, int wanted) throws Exception {
        Path data = work.resolve("data");
        int events = season(work, data, wanted);
        System.out.printf(
                Locale.ROOT,
                "%,d events, file of %,d MB, Java %s, %d CPUs, heap %s, load %s%n",
                events,
                Files.size(data.resolve("duskpeg.mv.db")) >> 20,
                Runtime.version(),
                Runtime.getRuntime().availableProcessors(),
                heap,
                Machine.load());
        int times = Integer.parseInt(options.getOrDefault("times", "5"));
        if (times > 0) {
            System.out.printf("%n%-62s %6s %8s %6s %6s%n", "from java -jar to ready, s", "min", "median", "max", "cpu");
            starts(times, "defaults", data);
            starts(times, "-XX:TieredStopAtLevel=1, as the README's first command", data, "-XX:TieredStopAtLevel=1");
            starts(times, "-Xmx" + heap, data, "-Xmx" + heap);
            starts(times, "-Xmx" + heap + " -XX:TieredStopAtLevel=1", data, "-Xmx" + heap, "-XX:TieredStopAtLevel=1");
        }
        pages(work, data);
        System.out.printf("load at the end %s%n", Machine.load());
    }

    // ---------------------------------------------------------------- the season

    private int season(Path work, Path data, int wanted) throws Exception {
        String url = "jdbc:h2:file:" + data.resolve("duskpeg")
                + ";WRITE_DELAY=0;LOCK_TIMEOUT=10000;DB_CLOSE_ON_EXIT=FALSE;TRACE_LEVEL_FILE=0";
        Flyway.configure()
                .dataSource(url, "", "")
                .locations("classpath:db")
                .load()
                .migrate();
        int events;
        try (Connection database = DriverManager.getConnection(url)) {
            events = count(database, "event");
            if (events == 0) {
                long started = System.nanoTime();
                events = InventedSeason.write(database, wanted);
                System.out.printf(Locale.ROOT, "made in %.0f s%n", Machine.seconds(started));
            }
        }
        if (!has(url, "select count(*) from history_tie_1", "select count(*) from history_tie_2")) {
            long started = System.nanoTime();
            Process rebuild = new ProcessBuilder(java("-jar", jar.toString(), "rebuild", "--duskpeg.data-dir=" + data))
                    .redirectErrorStream(true)
                    .redirectOutput(work.resolve("rebuild.log").toFile())
                    .start();
            if (rebuild.waitFor() != 0) {
                throw new IOException("rebuild failed:\n" + Files.readString(work.resolve("rebuild.log")));
            }
            System.out.printf(Locale.ROOT, "rebuilt in %.0f s%n", Machine.seconds(started));
        }
        ledger(url);
        return events;
    }

    private static int count(Connection database, String table) throws SQLException {
        return number(database, "select count(*) from " + table);
    }

    private static int number(Connection database, String sql) throws SQLException {
        try (Statement query = database.createStatement();
                ResultSet row = query.executeQuery(sql)) {
            row.next();
            return row.getInt(1);
        }
    }

    private static boolean has(String url, String... counts) throws Exception {
        try (Connection database = DriverManager.getConnection(url)) {
            for (String count : counts) {
                if (number(database, count) > 0) {
                    return true;
                }
            }
            return false;
        }
    }

    /** The season is written without a ledger: makes every event a leaf, as a server does while it follows the log. */
    private static void ledger(String url) throws Exception {
        SingleConnectionDataSource source = new SingleConnectionDataSource(url, true);
        try (Connection database = DriverManager.getConnection(url);
                PreparedStatement insert =
                        database.prepareStatement("insert into ledger_leaf (farm, leaf, event_id) values (?, ?, ?)")) {
            if (count(database, "ledger_leaf") > 0) {
                return;
            }
            long started = System.nanoTime();
            database.setAutoCommit(false);
            StoredEvents events = new StoredEvents(JdbcClient.create(source), false);
            Map<String, byte[]> tiles = new HashMap<>();
            Appender appender = new Appender(0, store(tiles));
            List<Place> some = events.places(InventedSeason.FARM, -1, BATCH);
            while (!some.isEmpty()) {
                Map<String, Stored> stored =
                        events.withIds(some.stream().map(Place::id).toList());
                for (Place place : some) {
                    insert.setString(1, InventedSeason.FARM.value());
                    insert.setLong(2, appender.size());
                    insert.setString(3, place.id());
                    insert.addBatch();
                    appender.append(
                            Hash.ofLeaf(stored.get(place.id()).canonical().getBytes(StandardCharsets.UTF_8)));
                }
                insert.executeBatch();
                database.commit();
                some = events.places(
                        InventedSeason.FARM, some.get(some.size() - 1).position(), BATCH);
            }
            appender.keep();
            keep(database, tiles);
            System.out.printf(
                    Locale.ROOT, "ledger of %,d leaves made in %.0f s%n", appender.size(), Machine.seconds(started));
        } finally {
            source.destroy();
        }
    }

    private static Tiles.Store store(Map<String, byte[]> tiles) {
        return new Tiles.Store() {
            @Override
            public byte[] tile(int level, long index) {
                return tiles.getOrDefault(level + "/" + index, new byte[0]);
            }

            @Override
            public void keep(int level, long index, byte[] hashes) {
                tiles.put(level + "/" + index, hashes);
            }
        };
    }

    private static void keep(Connection database, Map<String, byte[]> tiles) throws SQLException {
        try (PreparedStatement insert = database.prepareStatement(
                "insert into ledger_tile (farm, tile_level, tile_index, hashes) values (?, ?, ?, ?)")) {
            for (Map.Entry<String, byte[]> tile : tiles.entrySet()) {
                String[] place = tile.getKey().split("/", 2);
                insert.setString(1, InventedSeason.FARM.value());
                insert.setInt(2, Integer.parseInt(place[0]));
                insert.setLong(3, Long.parseLong(place[1]));
                insert.setBytes(4, tile.getValue());
                insert.executeUpdate();
            }
        }
        database.commit();
    }

    // ---------------------------------------------------------------- starts

    private static List<String> java(String... arguments) {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(List.of(arguments));
        return command;
    }

    private void starts(int times, String name, Path data, String... jvm) throws Exception {
        List<Double> seconds = new ArrayList<>();
        List<Double> processor = new ArrayList<>();
        for (int time = 0; time < times; time++) {
            Server server = Server.start(jar, data, List.of(jvm), port);
            seconds.add(server.secondsToReady);
            processor.add(server.processorSeconds());
            server.stop();
        }
        System.out.printf(
                Locale.ROOT,
                "%-62s %6.1f %8.1f %6.1f %6.1f%n",
                name,
                Machine.quantile(seconds, 0),
                Machine.quantile(seconds, 0.5),
                Machine.quantile(seconds, 1),
                Machine.quantile(processor, 0.5));
    }

    // ---------------------------------------------------------------- pages

    private void pages(Path work, Path data) throws Exception {
        Path log = work.resolve("gc.log");
        Files.deleteIfExists(log);
        Server server =
                Server.start(jar, data, List.of("-Xmx" + heap, "-Xlog:gc:file=" + log + ":uptime:filecount=0"), port);
        System.out.printf("%nlive heap after the start: %s MB%n", live(server, log));
        Walk walk = new Walk(server, log);
        System.out.printf(
                "%n%8s %9s %9s %11s %12s  %s%n",
                "status", "s", "cpu s", "KB", "heap MB", "page; heap is the most in use before a collection");
        for (String page : walk.pages()) {
            walk.open(page);
        }
        System.out.printf(
                "%nlive heap after all pages: %s MB; the most in use before a collection: %d MB, after one: %d MB%n",
                live(server, log), most(log, 0, 1), most(log, 0, 2));
        server.stop();
        server.complain();
    }

    /** MB after a full collection. */
    private static String live(Server server, Path log) throws Exception {
        Thread.sleep(1_000);
        new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "jcmd").toString(),
                        Long.toString(server.process.pid()),
                        "GC.run")
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start()
                .waitFor(60, TimeUnit.SECONDS);
        Thread.sleep(500);
        String after = "?";
        for (String line : Files.readAllLines(log)) {
            Matcher sizes = COLLECTED.matcher(line);
            if (line.contains("Full") && sizes.find()) {
                after = sizes.group(2);
            }
        }
        return after;
    }

    private static int most(Path log, int from, int which) throws IOException {
        int most = 0;
        List<String> lines = Files.readAllLines(log);
        for (String line : lines.subList(Math.min(from, lines.size()), lines.size())) {
            Matcher sizes = COLLECTED.matcher(line);
            if (sizes.find()) {
                most = Math.max(most, Integer.parseInt(sizes.group(which)));
            }
        }
        return most;
    }

    /** Opens one page after the other, and reads each to its end without keeping it. */
    private final class Walk {

        private final Server server;
        private final Path log;
        private final HttpClient http = HttpClient.newBuilder()
                .version(HttpClient.Version.HTTP_1_1)
                .connectTimeout(Duration.ofSeconds(10))
                .build();
        private final Duration patience = Duration.ofSeconds(Integer.parseInt(options.getOrDefault("patience", "600")));

        Walk(Server server, Path log) {
            this.server = server;
            this.log = log;
        }

        List<String> pages() throws Exception {
            String asked = options.get("pages");
            if (asked != null) {
                return List.of(asked.split(","));
            }
            String morning = MORNING.toString();
            String tie = tie(MORNING);
            lot();
            return Stream.of(
                            "/ /board /board?morning=M /board?morning=M&view=wall /board?morning=M&at=07:30 /board/live?morning=M",
                            "/board/mornings /row/7/M /fruit/T /fruit?row=7&morning=M /find?row=7&morning=M /find?row=7",
                            "/find?worker=w3 /find?cultivar=Greycap+Nine /inbox /strips /strips/T /people /people/w3 /outbox",
                            "/alerts /plan?morning=M /cull?day=A /harvest?day=D /season?year=2025 /season?year=2026 /season",
                            "/lots /lot/GC9-26 /trace?of=T /trace?of=GC9-26 /pairing /bulk /reckon /figures /plantings",
                            "/auditors /export /operations /health /metrics /api /openapi.json",
                            "/api/farm /api/board?morning=M /api/forecast?morning=M /api/moves?morning=M /api/plan?morning=M",
                            "/api/window?date=M /api/alerts /api/fruit/T /api/fruit?row=7&morning=M /api/fruit/T/verdict",
                            "/api/row/7/M /api/inbox /api/strips /api/strips/T /api/people /api/outbox /api/lots",
                            "/api/lot/GC9-26 /api/trace?tie=T /api/trace?lot=GC9-26 /api/season?year=2025 /api/season.csv?year=2025",
                            "/api/cull?day=A /api/harvest?day=D /api/figures /api/plantings /api/ledger/checkpoint /api/ledger/key",
                            "/api/ledger/consistency?from=1000&to=5000 /fruit/T/history.pdf /fruit/T/epcis.json",
                            "/api/audit/bundle?tie=T /api/audit/bundle?row=7&morning=M LINKS",
                            "/api/audit/bundle?tie=T&whole=true /api/export/events.jsonl /api/export/epcis.jsonld?morning=M",
                            "/api/export/epcis.jsonld /api/export/rounds.csv /api/export/acts.csv /api/export/fruit.csv",
                            "/api/export/findings.csv /api/export/questions.csv /api/export/ties.csv /api/export/custody.csv",
                            "/api/export/workers.csv /api/export/plantings.csv / /board?morning=M")
                    .flatMap(line -> Stream.of(line.split(" ")))
                    .flatMap(page -> page.equals("LINKS") ? links().stream() : Stream.of(page))
                    .map(page -> page.replaceAll("=M\\b|/M\\b", page.contains("=M") ? "=" + morning : "/" + morning)
                            .replaceAll("([/=])T\\b", "$1" + tie)
                            .replace("day=A", "day=" + MORNING)
                            .replace("day=D", "day=" + AFTER.minusDays(InventedSeason.MORNINGS - 46L)))
                    .toList();
        }

        private String tie(LocalDate morning) throws Exception {
            String page = http.send(request("/find?row=7&morning=" + morning).build(), BodyHandlers.ofString())
                    .body();
            Matcher found = Pattern.compile("/fruit/(\\d+)").matcher(page);
            return found.find() ? found.group(1) : "1";
        }

        /** A lot of what was brought in first. */
        private void lot() throws Exception {
            post("/lots", "lot", "GC9-26", "cultivar", "Greycap Nine", "by", "w0");
            post("/lot/GC9-26/take", "ties", "100-" + (99 + LOT_TIES), "although", "on", "by", "w0");
            post("/lot/GC9-26/weigh", "on", AFTER.toString(), "grams", "18000", "by", "w0");
        }

        /** An auditor's links to a lot and to the season, with what can be had there. */
        private List<String> links() {
            String lot = link("lot", "GC9-26");
            return List.of(lot, lot + "/lot/GC9-26", lot + "/lot/GC9-26/bundle", link("season", "2026"));
        }

        private String link(String scope, String about) {
            try {
                Matcher made = Pattern.compile("/auditor/[0-9a-f]+")
                        .matcher(post(
                                "/auditors", "scope", scope, "about", about, "whom", "Bench", "days", "2", "by", "w0"));
                return made.find() ? made.group() : "/auditor/none";
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        }

        private String post(String path, String... fields) throws Exception {
            StringBuilder form = new StringBuilder();
            for (int i = 0; i < fields.length; i += 2) {
                form.append(form.isEmpty() ? "" : "&")
                        .append(fields[i])
                        .append('=')
                        .append(URLEncoder.encode(fields[i + 1], StandardCharsets.UTF_8));
            }
            return http.send(
                            request(path)
                                    .header("Content-Type", "application/x-www-form-urlencoded")
                                    .POST(BodyPublishers.ofString(form.toString()))
                                    .build(),
                            BodyHandlers.ofString())
                    .body();
        }

        private HttpRequest.Builder request(String path) {
            return HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.port + path))
                    .header("X-Duskpeg-Now", MORNING + "T07:30:00+02:00")
                    .timeout(patience);
        }

        void open(String page) throws Exception {
            int lines = Files.readAllLines(log).size();
            double processor = server.processorSeconds();
            long started = System.nanoTime();
            String status;
            long bytes = 0;
            try {
                HttpResponse<InputStream> answer = http.send(request(page).GET().build(), BodyHandlers.ofInputStream());
                status = Integer.toString(answer.statusCode());
                try (InputStream body = answer.body()) {
                    byte[] some = new byte[1 << 16];
                    for (int read = body.read(some); read >= 0; read = body.read(some)) {
                        bytes += read;
                        if (Machine.seconds(started) > patience.toSeconds()) {
                            throw new IOException("not ended in " + patience.toSeconds() + " s");
                        }
                    }
                }
                failed += answer.statusCode() >= 500 ? 1 : 0;
            } catch (IOException e) {
                failed++;
                status = "FAILED " + e.getMessage();
            }
            System.out.printf(
                    Locale.ROOT,
                    "%8s %9.2f %9.2f %,11d %12d  %s%n",
                    status,
                    Machine.seconds(started),
                    server.processorSeconds() - processor,
                    (bytes + 1023) >> 10,
                    most(log, lines, 1),
                    page);
        }
    }
}
