import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.Reader;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Random;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLongArray;
import java.util.function.DoubleSupplier;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Posts texts to the assembled server as nobody should send them, and looks whether each is answered as it must be;
 * then whether the server is well and has stored each of them once. See {@code docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench:projections/target/duskpeg.jar Fuzz --texts 1000000
 * </pre>
 */
final class Fuzz {

    private static final String USAGE = """
        java -cp projections/target/bench:projections/target/duskpeg.jar Fuzz [options]

          --texts 20000      how many texts
          --calls 0.1        how many steps of calls for each text
          --clients 16       how many connections at once
          --seed 1           another seed, other texts
          --zone America/Santiago   the farm's time zone
          --replay SEED:INDEX       one of them only, shown with its answer; SEED:cINDEX one call
          --patience 15000   how many ms an answer may take; the carrier waits 15 s
          --url http://127.0.0.1:8080   a running demo server; then its database and its rebuild are not looked at
          --jar projections/target/duskpeg.jar
          --database ";WRITE_DELAY=500;CACHE_SIZE=1000000;AUTO_COMPACT_FILL_RATE=0"
                             what follows the database's address; as in production: ";WRITE_DELAY=0"
        """;

    private static final int SHOWN = 40;

    /** How many steps a call has, about. */
    private static final double STEPS_OF_A_CALL = 6;

    private static final int LOOKED_AT = 150;
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final Path LANGUAGES = Path.of("messaging/src/main/resources/duskpeg/language");
    private static final Path REPLIES = Path.of("messaging/src/main/resources/duskpeg/reply/en.properties");
    private static final Path DEMO_FARM = Path.of("projections/src/main/resources/demo-farm.json");

    private final Map<String, String> options;
    private final int texts;
    private final int patience;
    private final long seed;
    private final Path work;
    private final String failedPhrase;
    private final String failedCallPhrase;
    private final double callShare;
    private final Counts callSteps = new Counts();
    private final AtomicInteger next = new AtomicInteger();
    private final Map<HostileTexts.Kind, Counts> counts = new EnumMap<>(HostileTexts.Kind.class);
    private final ConcurrentLinkedQueue<String> failures = new ConcurrentLinkedQueue<>();
    private final AtomicInteger failed = new AtomicInteger();
    private final Map<String, String> sharedAnswers = new ConcurrentHashMap<>();
    private final Slots accepted;
    private final Times times = new Times();

    private Fuzz(Map<String, String> options, Path work) throws IOException {
        this.options = options;
        this.work = work;
        this.texts = Integer.parseInt(options.get("--texts"));
        this.patience = Integer.parseInt(options.get("--patience"));
        this.seed = Long.parseLong(options.get("--seed"));
        this.accepted = new Slots(texts);
        Properties replies = new Properties();
        try (Reader in = Files.newBufferedReader(REPLIES)) {
            replies.load(in);
        }
        failedPhrase = replies.getProperty("failed");
        failedCallPhrase = replies.getProperty("voice.failed");
        callShare = Double.parseDouble(options.get("--calls"));
        for (HostileTexts.Kind kind : HostileTexts.Kind.values()) {
            counts.put(kind, new Counts());
        }
    }

    public static void main(String[] arguments) throws Exception {
        Map<String, String> options = new HashMap<>();
        options.putAll(Map.of(
                "--texts", "20000",
                "--calls", "0.1",
                "--clients", "16",
                "--seed", "1",
                "--zone", "America/Santiago",
                "--replay", "",
                "--patience", "15000"));
        options.putAll(Map.of(
                "--url", "",
                "--jar", "projections/target/duskpeg.jar",
                "--database", ";WRITE_DELAY=500;CACHE_SIZE=1000000;AUTO_COMPACT_FILL_RATE=0"));
        for (int i = 0; i < arguments.length; i += 2) {
            if (!options.containsKey(arguments[i]) || i + 1 == arguments.length) {
                System.err.println("Not understood: " + arguments[i] + "\n\n" + USAGE);
                System.exit(2);
            }
            options.put(arguments[i], arguments[i + 1]);
        }
        String replay = options.get("--replay");
        if (!replay.isEmpty()) {
            options.put("--seed", replay.split(":")[0]);
            options.put("--texts", "1");
        }
        Path work = Files.createTempDirectory("duskpeg-fuzz-");
        AtomicBoolean keep = new AtomicBoolean();
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            Server.destroyAll();
            if (!keep.get()) {
                Machine.delete(work);
            }
        }));
        boolean good = false;
        try {
            Fuzz fuzz = new Fuzz(options, work);
            good = replay.isEmpty() ? fuzz.run() : fuzz.replay(replay.split(":")[1]);
        } finally {
            keep.set(!good && options.get("--url").isEmpty());
            if (keep.get()) {
                System.out.println("Data and logs are kept in " + work);
            }
        }
        System.out.println(good ? "No failures." : "FAILED.");
        System.exit(good ? 0 : 1);
    }

    // ---------------------------------------------------------------- the run

    private boolean run() throws Exception {
        System.out.printf(
                "%d texts, seed %d, %s clients, %s%nJava %s, %d CPUs, load average %s%n%n",
                texts,
                seed,
                options.get("--clients"),
                Instant.now().truncatedTo(ChronoUnit.SECONDS),
                Runtime.version(),
                Runtime.getRuntime().availableProcessors(),
                Machine.load());
        if (!options.get("--url").isEmpty()) {
            URI url = URI.create(options.get("--url"));
            send(url, () -> 0);
            boolean well = isWell(url);
            return report() && well;
        }
        Path jar = Files.copy(Path.of(options.get("--jar")), work.resolve("duskpeg.jar"));
        Path data = work.resolve("data");
        Server server = Server.start(jar, data, settings());
        URI url = URI.create("http://127.0.0.1:" + server.port);
        double before = server.processorSeconds();
        send(url, server::processorSeconds);
        System.out.printf(
                Locale.ROOT,
                "Processor ms for a text: %.2f of the server, %.2f of this program%n%n",
                1e3 * (server.processorSeconds() - before) / texts,
                1e3
                        * ProcessHandle.current()
                                .info()
                                .totalCpuDuration()
                                .orElseThrow()
                                .toMillis()
                        / 1e3
                        / texts);
        boolean well = isWell(url);
        List<String> views = views(url);
        server.stop();
        server.complain();
        boolean stored = storedOnce();
        boolean same = rebuildsTheSame(jar, data, views);
        return report() && well && stored && same;
    }

    /** The demo farm in a zone whose clocks change, its crew speaking all the languages there are. */
    private String[] settings() throws IOException {
        JsonNode farm = JSON.readTree(DEMO_FARM.toFile());
        ((com.fasterxml.jackson.databind.node.ObjectNode) farm).put("zone", options.get("--zone"));
        List<String> languages = List.of("en", "af", "es", "st", "zu");
        int worker = 0;
        for (JsonNode one : farm.get("workers")) {
            ((com.fasterxml.jackson.databind.node.ObjectNode) one)
                    .put("language", languages.get(worker++ % languages.size()));
        }
        Path file = work.resolve("farm.json");
        JSON.writeValue(file.toFile(), farm);
        return new String[] {"--duskpeg.farm-file=file:" + file, "--spring.datasource.url=" + database()};
    }

    private String database() {
        return "jdbc:h2:file:" + work.resolve("data").resolve("duskpeg") + ";LOCK_TIMEOUT=10000;DB_CLOSE_ON_EXIT=FALSE"
                + options.get("--database");
    }

    /** What is sent to a server. */
    private record Load(HostileTexts texts, HostileCalls calls) {}

    private Load load(URI url) throws Exception {
        JsonNode farm = JSON.readTree(Server.get(url, "/api/farm"));
        List<String> phones = farm.get("workers").findValuesAsText("phone");
        HostileTexts all = new HostileTexts(
                seed, FieldLines.of(LANGUAGES), phones, ZoneId.of(farm.get("zone").asText()));
        return new Load(all, new HostileCalls(seed, phones, all, failedCallPhrase));
    }

    /**
     * @param processor the server's processor seconds so far
     */
    private void send(URI url, DoubleSupplier processor) throws Exception {
        Load load = load(url);
        List<Thread> clients = new ArrayList<>();
        long started = System.nanoTime();
        for (int client = 0; client < Integer.parseInt(options.get("--clients")); client++) {
            clients.add(new Thread(() -> client(url, load), "client-" + client));
        }
        clients.forEach(Thread::start);
        int shown = 0;
        double used = processor.getAsDouble();
        for (Thread client : clients) {
            while (client.isAlive()) {
                client.join(500);
                int done = Math.min(texts, next.get());
                if (done - shown >= Math.max(2_000, texts / 40)) {
                    System.out.printf(
                            Locale.ROOT,
                            "%9d texts after %6.0f s, %6.1f a second, the last of them %.2f ms of the server's"
                                    + " processor each, %d failed%n",
                            done,
                            Machine.seconds(started),
                            done / Machine.seconds(started),
                            1e3 * (processor.getAsDouble() - used) / (done - shown),
                            failed.get());
                    shown = done;
                    used = processor.getAsDouble();
                }
            }
        }
        double took = Machine.seconds(started);
        System.out.printf(
                Locale.ROOT,
                "%n%d texts in %.1f s, %.1f a second; answered within ms: half %.1f, 99 of 100 %.1f, the slowest %.0f;"
                        + " load average %s%n%n",
                texts,
                took,
                texts / took,
                times.millis(0.5),
                times.millis(0.99),
                times.millis(1),
                Machine.load());
    }

    private void client(URI url, Load load) {
        try (Wire wire = new Wire(url.getPort(), patience)) {
            for (int index = next.getAndIncrement(); index < texts; index = next.getAndIncrement()) {
                if (HostileTexts.random(seed - 1, index).nextDouble() < callShare / STEPS_OF_A_CALL) {
                    int call = index;
                    load.calls().call(call, wire, step -> judge(call, step));
                }
                HostileTexts.Request request = load.texts().request(index);
                Counts count = counts.get(request.kind());
                count.sent.incrementAndGet();
                long started = System.nanoTime();
                try {
                    Wire.Answer answer = wire.send(request.bytes(), request.last());
                    long took = System.nanoTime() - started;
                    times.add(took);
                    judge(index, request, answer, took / 1e6);
                } catch (IOException | RuntimeException e) {
                    fail(index, request, "no answer after %.1f s: %s".formatted(Machine.seconds(started), e));
                }
            }
        }
    }

    private void judge(int index, HostileTexts.Request request, Wire.Answer answer, double millis) {
        Counts count = counts.get(request.kind());
        // 505 is what a version of HTTP that there is not must be answered with (RFC 9110, 15.6.6).
        boolean refused = (answer.status() >= 400 && answer.status() < 500) || answer.status() == 505;
        if (refused && request.mayRefuse()) {
            count.refused.incrementAndGet();
            return;
        }
        if (answer.status() != 200) {
            fail(
                    index,
                    request,
                    "status " + answer.status() + " "
                            + answer.text().lines().limit(3).toList());
            return;
        }
        count.answered.incrementAndGet();
        accepted.add(index, request);
        try {
            Twiml twiml = Twiml.of(answer.body());
            twiml.wrongAsText().ifPresent(wrong -> fail(index, request, wrong));
            if (twiml.words().contains(failedPhrase)) {
                fail(index, request, "the server failed inside");
            }
            if (request.kind() == HostileTexts.Kind.SID_AGAIN) {
                String first = sharedAnswers.putIfAbsent(request.sid(), answer.text());
                if (first != null && !first.equals(answer.text())) {
                    fail(index, request, "one sid, two answers: " + first + " and " + answer.text());
                }
            }
        } catch (IOException e) {
            fail(index, request, e.getMessage());
        }
        if (millis > patience) {
            fail(index, request, "answered after %.1f s".formatted(millis / 1000));
        }
    }

    private void judge(int index, HostileCalls.Step step) {
        callSteps.sent.incrementAndGet();
        times.add(step.nanos());
        if (step.wrong().isEmpty() && step.nanos() <= patience * 1_000_000L) {
            callSteps.answered.incrementAndGet();
        } else {
            callSteps.failed.incrementAndGet();
            String shown = step.shown().length() > 200 ? step.shown().substring(0, 200) : step.shown();
            fail("c" + index + " call " + shown + ": " + step.wrong() + " " + step.answer());
        }
    }

    private void fail(int index, HostileTexts.Request request, String what) {
        counts.get(request.kind()).failed.incrementAndGet();
        fail(index + " " + request.kind() + ": " + what);
    }

    private void fail(String what) {
        if (failed.incrementAndGet() <= SHOWN) {
            String failure = "--replay " + seed + ":" + what;
            failures.add(failure);
            System.out.println("FAILED: " + failure);
        }
    }

    private boolean report() {
        System.out.printf("%-12s %9s %9s %9s %9s%n", "kind", "sent", "answered", "refused", "FAILED");
        counts.forEach((kind, count) -> count.row(kind.name()));
        Counts all = new Counts();
        counts.values().forEach(all::add);
        all.row("all texts");
        callSteps.row("call steps");
        System.out.println();
        failures.forEach(System.out::println);
        return failed.get() == 0;
    }

    private boolean replay(String index) throws Exception {
        URI url = options.get("--url").isEmpty()
                ? URI.create("http://127.0.0.1:"
                        + Server.start(Path.of(options.get("--jar")), work.resolve("data"), settings()).port)
                : URI.create(options.get("--url"));
        Load load = load(url);
        try (Wire wire = new Wire(url.getPort(), patience)) {
            if (index.startsWith("c")) {
                int call = Integer.parseInt(index.substring(1));
                load.calls().call(call, wire, step -> {
                    System.out.println(step.shown() + "\n" + step.answer() + "\n");
                    judge(call, step);
                });
                return failed.get() == 0;
            }
            HostileTexts.Request request = load.texts().request(Integer.parseInt(index));
            System.out.println(request.kind() + "\n" + request.shown() + "\n");
            long started = System.nanoTime();
            Wire.Answer answer = wire.send(request.bytes(), request.last());
            double took = Machine.seconds(started);
            System.out.printf(Locale.ROOT, "%d after %.3f s%n%s%n%n", answer.status(), took, answer.text());
            judge(0, request, answer, took * 1000);
        }
        return failed.get() == 0;
    }

    // ---------------------------------------------------------------- afterwards

    /** Whether texts are still heard and pages still load. */
    private boolean isWell(URI url) throws Exception {
        JsonNode farm = JSON.readTree(Server.get(url, "/api/farm"));
        String phone = farm.get("workers").get(0).get("phone").asText();
        try (Wire wire = new Wire(url.getPort(), patience)) {
            wire.post(
                    "/field/text",
                    "MessageSid=fw1-" + seed + "&From=" + Wire.encode(phone) + "&Body=lang+en",
                    "2040-06-01T07:00:00Z");
            String answer = wire.post(
                            "/field/text",
                            "MessageSid=fw2-" + seed + "&From=" + Wire.encode(phone) + "&Body=2+12+6",
                            "2040-06-01T12:00:00Z")
                    .text();
            boolean heard = answer.contains("Row 12") && answer.contains("6 opened");
            boolean pages = Server.get(url, "/board").contains("</html>")
                    && Server.get(url, "/").contains("</html>")
                    && Server.get(url, "/phone").contains("</html>");
            System.out.println(heard && pages ? "The server is well." : "THE SERVER IS NOT WELL: " + answer);
            return heard && pages;
        }
    }

    /** Boards and histories, some of them, when they no longer change. */
    private List<String> views(URI url) throws Exception {
        List<String> views = viewsNow(url);
        for (List<String> earlier = List.of(); !earlier.equals(views); ) {
            Thread.sleep(1_000);
            earlier = views;
            views = viewsNow(url);
        }
        return views;
    }

    private List<String> viewsNow(URI url) throws Exception {
        Random random = HostileTexts.random(seed, -1);
        List<String> views = new ArrayList<>();
        for (int i = 0; i < LOOKED_AT; i++) {
            LocalDate morning = LocalDate.of(2024, 1, 1).plusDays(random.nextInt(2000));
            views.add(Server.get(url, "/api/board?morning=" + morning));
        }
        List<Integer> ties = IntStream.range(0, LOOKED_AT).boxed().collect(Collectors.toList());
        IntStream.range(0, LOOKED_AT).forEach(i -> ties.add(4_700 + 10 * i));
        for (int tie : ties) {
            views.add(Server.look(url, "/api/fruit/%06d".formatted(tie)));
        }
        return views;
    }

    private boolean storedOnce() throws Exception {
        BitSet found = new BitSet(texts);
        int shared = 0;
        int digests = 0;
        int given = 0;
        int again = 0;
        int unanswered = 0;
        long events;
        try (Connection connection = DriverManager.getConnection(database());
                Statement statement = connection.createStatement()) {
            try (ResultSet rows = statement.executeQuery("select text_id, reply is null from field_text")) {
                String own = "fz" + seed + "-";
                while (rows.next()) {
                    String id = rows.getString(1);
                    // What was keyed and never confirmed has no reply; a text has one.
                    unanswered += rows.getBoolean(2) && id.matches("f[az]" + seed + "-.*") ? 1 : 0;
                    if (id.startsWith(own)) {
                        int index = Integer.parseInt(id.substring(own.length()).replaceAll("x*$", ""));
                        again += found.get(index) ? 1 : 0;
                        found.set(index);
                    } else if (id.startsWith("fa" + seed + "-")) {
                        shared++;
                    } else if (id.startsWith("x-")) {
                        digests++;
                    } else if (id.startsWith("n-")) {
                        given++;
                    }
                }
            }
            try (ResultSet rows = statement.executeQuery("select count(*) from event")) {
                rows.next();
                events = rows.getLong(1);
            }
        }
        BitSet lost = (BitSet) accepted.own.clone();
        lost.andNot(found);
        BitSet extra = (BitSet) found.clone();
        extra.andNot(accepted.own);
        System.out.printf(
                "In the database: %d texts with their own ids (%d lost, %d without an answer sent, %d twice), %d of %d"
                        + " shared ids, %d of %d odd ids, %d of %d without one; %d without a reply; %d events%n",
                found.cardinality(),
                lost.cardinality(),
                extra.cardinality(),
                again,
                shared,
                sharedAnswers.size(),
                digests,
                accepted.digests.get(),
                given,
                accepted.newIds.get(),
                unanswered,
                events);
        lost.stream().limit(5).forEach(index -> System.out.println("LOST: --replay " + seed + ":" + index));
        return lost.isEmpty()
                && again == 0
                && unanswered == 0
                && shared == sharedAnswers.size()
                && digests >= accepted.digests.get() // calls have odd ids too
                && given == accepted.newIds.get();
    }

    private boolean rebuildsTheSame(Path jar, Path data, List<String> before) throws Exception {
        long started = System.nanoTime();
        Process rebuild = Server.rebuild(jar, data, settings());
        boolean ended = rebuild.waitFor(30, TimeUnit.MINUTES);
        double took = Machine.seconds(started);
        if (!ended || rebuild.exitValue() != 0) {
            System.out.println("THE REBUILD FAILED; see rebuild.log");
            rebuild.destroyForcibly();
            return false;
        }
        Server server = Server.start(jar, data, settings());
        List<String> after = views(URI.create("http://127.0.0.1:" + server.port));
        server.stop();
        boolean same = before.equals(after);
        System.out.printf(
                Locale.ROOT,
                "Rebuilt in %.1f s; %d boards and histories are %s%n%n",
                took,
                after.size(),
                same ? "the same to the byte" : "NOT THE SAME");
        return same;
    }

    // ---------------------------------------------------------------- counting

    private static final class Counts {
        private final AtomicInteger sent = new AtomicInteger();
        private final AtomicInteger answered = new AtomicInteger();
        private final AtomicInteger refused = new AtomicInteger();
        private final AtomicInteger failed = new AtomicInteger();

        void add(Counts more) {
            sent.addAndGet(more.sent.get());
            answered.addAndGet(more.answered.get());
            refused.addAndGet(more.refused.get());
            failed.addAndGet(more.failed.get());
        }

        void row(String name) {
            System.out.printf(
                    "%-12s %9d %9d %9d %9d%n", name, sent.get(), answered.get(), refused.get(), failed.get());
        }
    }

    /** Which texts were answered, so must be in the database. */
    private static final class Slots {
        private final BitSet own;
        private final AtomicInteger digests = new AtomicInteger();
        private final AtomicInteger newIds = new AtomicInteger();

        Slots(int texts) {
            own = new BitSet(texts);
        }

        void add(int index, HostileTexts.Request request) {
            switch (request.stored()) {
                case SID -> {
                    if (request.kind() != HostileTexts.Kind.SID_AGAIN) {
                        synchronized (own) {
                            own.set(index);
                        }
                    }
                }
                case DIGEST -> digests.incrementAndGet();
                case NEW_ID -> newIds.incrementAndGet();
                case NOT -> {}
            }
        }
    }

    /** How long answers took, in steps of a tenth. */
    private static final class Times {

        private static final double STEP = Math.log(1.1);
        private final AtomicLongArray steps = new AtomicLongArray(400);

        void add(long nanos) {
            steps.incrementAndGet(Math.min(steps.length() - 1, (int) (Math.log(Math.max(1_000, nanos)) / STEP)));
        }

        double millis(double quantile) {
            long all = IntStream.range(0, steps.length()).mapToLong(steps::get).sum();
            long seen = 0;
            for (int step = 0; step < steps.length(); step++) {
                seen += steps.get(step);
                if (seen > 0 && seen >= quantile * all) {
                    return Math.exp((step + 1) * STEP) / 1e6;
                }
            }
            return Double.NaN;
        }
    }
}
