import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.flywaydb.core.Flyway;

/**
 * How long {@code rebuild} takes for a season of so many events, and beside it what the database takes for the bare
 * work: reading every event once, and putting the same rows into tables with the same keys and indexes by JDBC batch.
 * See {@code docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench:projections/target/duskpeg.jar Rebuilding --events 10000,100000,1000000
 *     --engine h2|postgresql [--url jdbc:postgresql://localhost:5432/ --user postgres --password postgres]
 *     [--heap 256m] [--times 1] [--keep folder] [--jar projections/target/duskpeg.jar]
 * </pre>
 *
 * For PostgreSQL it makes and drops databases of its own on that server.
 */
final class Rebuilding {

    private static final String DATABASE = "duskpeg_rebuilding";
    private static final int BATCH = 1_000;
    private static final Pattern PART = Pattern.compile("Rebuilt (.+?): (.*)");

    private final Map<String, String> options = new LinkedHashMap<>();
    private final boolean postgres;
    private final Path jar;

    private Rebuilding(String[] arguments) throws IOException {
        for (int i = 0; i + 1 < arguments.length; i += 2) {
            options.put(arguments[i].substring(2), arguments[i + 1]);
        }
        postgres = options.getOrDefault("engine", "h2").equals("postgresql");
        jar = Path.of(options.getOrDefault("jar", "projections/target/duskpeg.jar"));
    }

    public static void main(String[] arguments) throws Exception {
        ((ch.qos.logback.classic.Logger) org.slf4j.LoggerFactory.getLogger("ROOT"))
                .setLevel(ch.qos.logback.classic.Level.WARN);
        new Rebuilding(arguments).run();
    }

    private void run() throws Exception {
        for (String events :
                options.getOrDefault("events", "10000,100000,1000000").split(",")) {
            String kept = options.get("keep");
            Path work = kept == null ? Files.createTempDirectory("duskpeg-rebuilding-") : Path.of(kept, events);
            Files.createDirectories(work);
            try {
                measure(work, Integer.parseInt(events));
            } finally {
                Server.destroyAll();
                if (kept == null) {
                    Machine.delete(work);
                    drop();
                }
            }
        }
    }

    private void measure(Path work, int wanted) throws Exception {
        String url = url(work);
        long started = System.nanoTime();
        int events = season(url, wanted);
        System.out.printf(
                Locale.ROOT,
                "%n%,d events, %s, heap %s, load %s; made in %.0f s%n",
                events,
                postgres ? "PostgreSQL" : "H2",
                options.getOrDefault("heap", "default"),
                Machine.load(),
                Machine.seconds(started));
        double read = read(url);
        System.out.printf(Locale.ROOT, "  bare read of all events: %.2f s, %,.0f/s%n", read, events / read);
        double best = Double.MAX_VALUE;
        for (int time = 0; time < Integer.parseInt(options.getOrDefault("times", "1")); time++) {
            best = Math.min(best, rebuild(work, url, events));
        }
        double bare = bare(url);
        System.out.printf(
                Locale.ROOT,
                "  rebuild %.2f s beside bare read and insert %.2f s: ratio %.2f; load %s%n",
                best,
                read + bare,
                best / (read + bare),
                Machine.load());
    }

    private String url(Path work) throws SQLException {
        if (!postgres) {
            return "jdbc:h2:file:" + work.resolve("data").resolve("duskpeg").toAbsolutePath()
                    + ";WRITE_DELAY=0;LOCK_TIMEOUT=10000;DB_CLOSE_ON_EXIT=FALSE;TRACE_LEVEL_FILE=0";
        }
        if (options.get("keep") == null) {
            drop();
        }
        try (Connection server = connect(server());
                Statement create = server.createStatement()) {
            create.execute("create database " + DATABASE);
        } catch (SQLException e) {
            if (options.get("keep") == null) {
                throw e;
            }
        }
        return server() + DATABASE;
    }

    private String server() {
        return options.getOrDefault("url", "jdbc:postgresql://localhost:5432/");
    }

    private void drop() throws SQLException {
        if (postgres) {
            try (Connection server = connect(server() + "postgres");
                    Statement drop = server.createStatement()) {
                drop.execute("drop database if exists " + DATABASE + " with (force)");
            }
        }
    }

    private Connection connect(String url) throws SQLException {
        String user = postgres ? options.getOrDefault("user", "postgres") : "";
        return DriverManager.getConnection(
                url.endsWith("/") ? url + "postgres" : url,
                user,
                postgres ? options.getOrDefault("password", "postgres") : "");
    }

    private int season(String url, int wanted) throws Exception {
        Flyway.configure()
                .dataSource(
                        url,
                        postgres ? options.getOrDefault("user", "postgres") : "",
                        postgres ? options.getOrDefault("password", "postgres") : "")
                .locations("classpath:db")
                .load()
                .migrate();
        try (Connection database = connect(url)) {
            int there = count(database, "event");
            return there > 0 ? there : InventedSeason.write(database, wanted);
        }
    }

    private static int count(Connection database, String table) throws SQLException {
        try (Statement count = database.createStatement();
                ResultSet row = count.executeQuery("select count(*) from " + table)) {
            row.next();
            return row.getInt(1);
        }
    }

    private double read(String url) throws SQLException {
        try (Connection database = connect(url)) {
            database.setAutoCommit(false);
            long started = System.nanoTime();
            long bytes = 0;
            long after = -1;
            try (PreparedStatement page = database.prepareStatement(
                    "select position, event_id, stream, event_type,"
                            + " revision, payload from event where position > ? order by position fetch first 5000 rows only")) {
                for (boolean more = true; more; ) {
                    more = false;
                    page.setLong(1, after);
                    try (ResultSet row = page.executeQuery()) {
                        while (row.next()) {
                            more = true;
                            after = row.getLong(1);
                            bytes += row.getBytes(6).length + row.getString(3).length();
                        }
                    }
                }
            }
            if (bytes == 0) {
                throw new IllegalStateException("nothing was read");
            }
            return Machine.seconds(started);
        }
    }

    private double rebuild(Path work, String url, int events) throws Exception {
        List<String> command = new ArrayList<>(
                List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString()));
        if (options.containsKey("heap")) {
            command.add("-Xmx" + options.get("heap"));
        }
        command.add("-Xlog:gc:file=" + work.resolve("gc.log"));
        command.addAll(List.of("-jar", jar.toString(), "rebuild", "--duskpeg.data-dir=" + work.resolve("data")));
        if (postgres) {
            command.addAll(List.of(
                    "--spring.datasource.url=" + url,
                    "--spring.datasource.username=" + options.getOrDefault("user", "postgres"),
                    "--spring.datasource.password=" + options.getOrDefault("password", "postgres")));
        }
        Path log = work.resolve("rebuild.log");
        long started = System.nanoTime();
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(log.toFile())
                .start();
        if (process.waitFor() != 0) {
            throw new IOException("rebuild failed:\n" + Files.readString(log));
        }
        double whole = Machine.seconds(started);
        System.out.printf(
                Locale.ROOT, "  rebuild, with start and stop: %.2f s, %,.0f events/s%n", whole, events / whole);
        for (String line : Files.readAllLines(log)) {
            Matcher part = PART.matcher(line);
            if (part.find()) {
                System.out.println("    " + part.group());
            }
        }
        System.out.println("    heap: " + heap(Files.readAllLines(work.resolve("gc.log"))));
        return whole;
    }

    /** The most before and after a collection, in MB. */
    private static String heap(List<String> lines) {
        Pattern sizes = Pattern.compile("(\\d+)M->(\\d+)M\\((\\d+)M\\)");
        int before = 0;
        int after = 0;
        for (String line : lines) {
            Matcher size = sizes.matcher(line);
            if (size.find()) {
                before = Math.max(before, Integer.parseInt(size.group(1)));
                after = Math.max(after, Integer.parseInt(size.group(2)));
            }
        }
        return "at most " + before + " MB before and " + after + " MB after a collection";
    }

    /** Puts all rows of the tables that a rebuild makes into tables of the same shape. */
    private double bare(String url) throws SQLException {
        double seconds = 0;
        try (Connection database = connect(url);
                Connection reading = connect(url)) {
            reading.setAutoCommit(false);
            int rows = 0;
            for (Map.Entry<String, List<String>> table : Tables.ALL.entrySet()) {
                String name = table.getKey().endsWith("_") ? table.getKey() + live(database) : table.getKey();
                try (Statement make = database.createStatement()) {
                    make.execute("drop table if exists bare");
                    make.execute("create table bare as select * from " + name + " where 1 = 0");
                    for (int i = 0; i < table.getValue().size(); i++) {
                        String index = table.getValue().get(i);
                        boolean unique = index.startsWith("unique ");
                        make.execute("create " + (unique ? "unique " : "") + "index bare_" + i + " on bare ("
                                + (unique ? index.substring(7) : index) + ")");
                    }
                }
                long started = System.nanoTime();
                rows += copy(reading, database, name);
                seconds += Machine.seconds(started);
                try (Statement drop = database.createStatement()) {
                    drop.execute("drop table bare");
                }
            }
            System.out.printf(
                    Locale.ROOT,
                    "  bare insert of the same %,d rows: %.2f s, %,.0f/s%n",
                    rows,
                    seconds,
                    rows / seconds);
        }
        return seconds;
    }

    private static int live(Connection database) throws SQLException {
        try (Statement query = database.createStatement();
                ResultSet row = query.executeQuery("select max(live) from projection where name <> 'index'")) {
            row.next();
            return row.getInt(1);
        }
    }

    private static int copy(Connection from, Connection to, String table) throws SQLException {
        int rows = 0;
        try (Statement select = from.createStatement()) {
            select.setFetchSize(BATCH);
            try (ResultSet row = select.executeQuery("select * from " + table)) {
                int columns = row.getMetaData().getColumnCount();
                to.setAutoCommit(false);
                try (PreparedStatement insert = to.prepareStatement("insert into bare values ("
                        + String.join(", ", Arrays.asList("?".repeat(columns).split(""))) + ")")) {
                    while (row.next()) {
                        for (int i = 1; i <= columns; i++) {
                            insert.setObject(i, row.getObject(i));
                        }
                        insert.addBatch();
                        if (++rows % BATCH == 0) {
                            insert.executeBatch();
                            to.commit();
                        }
                    }
                    insert.executeBatch();
                    to.commit();
                } finally {
                    to.setAutoCommit(true);
                }
            }
        }
        return rows;
    }

    /** The large tables that a rebuild makes, with their keys and indexes. */
    private static final class Tables {

        static final Map<String, List<String>> ALL = new LinkedHashMap<>();

        static {
            ALL.put("board_act_", List.of("unique position", "farm, morning, position"));
            ALL.put("history_tie_", List.of("farm, tie", "farm, morning", "position"));

            ALL.put("said", List.of("unique said", "text_id", "worker, said"));
            ALL.put("tie_use", List.of("unique used", "farm, tie", "text_id"));
        }
    }
}
