import java.io.IOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.Driver;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
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
import java.util.concurrent.atomic.AtomicIntegerArray;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * Measures the assembled server from outside, over HTTP, and kills it. Run from the project's root; see {@code
 * docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench Bench texts --clients 1,16 --seconds 15
 * java -cp projections/target/bench Bench kill  --times 10 --clients 8
 * java -cp projections/target/bench Bench start --times 5
 * </pre>
 */
final class Bench {

    private static final String USAGE = """
        java -cp projections/target/bench Bench COMMAND [options]

          texts   texts a second, beside plain inserts into the same database
                  --clients 1,16   client counts, one run each
                  --seconds 15     seconds of each run
                  --per-cell 7     texts of each act to a row's round; over 7, only their sums are checked
          kill    kills the server under load, and looks for reports lost or recorded twice
                  --times 10       how often
                  --clients 8
                  --url            a PostgreSQL with an empty database, jdbc:postgresql://..., instead of H2; or
                                   "embedded" for one of its own, with the tests' class path beside the bench's
                  --user postgres --password postgres
          start   seconds from process start to ready
                  --times 5        on a fresh and on a used data directory each

          --jar projections/target/duskpeg.jar
          --seed 20260101
        """;

    private final Options options;
    private final Path work;
    private final Path jar;

    private Bench(Options options, Path work, Path jar) {
        this.options = options;
        this.work = work;
        this.jar = jar;
    }

    public static void main(String[] arguments) throws Exception {
        Options options;
        try {
            options = Options.of(arguments);
        } catch (IllegalArgumentException e) {
            System.err.println(e.getMessage() + "\n\n" + USAGE);
            System.exit(2);
            return;
        }
        Path work = Files.createTempDirectory("duskpeg-bench-");
        AtomicBoolean keep = new AtomicBoolean();
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            Server.destroyAll();
            if (!keep.get()) {
                Machine.delete(work);
            }
        }));
        // A copy, so that the next build can't pull the jar away from under a server that runs from it.
        Path jar = Files.copy(options.jar, work.resolve("duskpeg.jar"));
        System.out.printf(
                "%s, %s, seed %d%nJava %s, %d CPUs, %d MB of memory, load average %s%n%n",
                options.command,
                Instant.now().truncatedTo(java.time.temporal.ChronoUnit.SECONDS),
                options.seed,
                Runtime.version(),
                Runtime.getRuntime().availableProcessors(),
                Machine.memory() >> 20,
                Machine.load());
        Bench bench = new Bench(options, work, jar);
        boolean good = false;
        try {
            good = switch (options.command) {
                case "texts" -> bench.texts();
                case "kill" -> bench.kill();
                default -> bench.start();
            };
        } finally {
            keep.set(!good);
            if (!good) {
                System.out.println("Data and logs are kept in " + work);
            }
        }
        System.out.printf("%nLoad average at the end %s%n", Machine.load());
        System.exit(good ? 0 : 1);
    }

    // ---------------------------------------------------------------- texts

    private boolean texts() throws Exception {
        int most = options.clients.stream().mapToInt(i -> i).max().orElseThrow();
        Map<Integer, Run> texts = new HashMap<>();
        Map<Integer, Run> inserts = new HashMap<>();
        Ledger ledger = new Ledger(options.seed, options.perCell);
        Server server = Server.start(jar, work.resolve("data"));
        try (Store store = Store.open(jar, work)) {
            Farm farm = Farm.of(server);
            warmUp(server, farm, ledger, store, most);
            System.out.printf("%d texts to warm up%n%n", ledger.count(State.NOTED));
            System.out.println("clients   texts/s   p50 ms   p99 ms   max ms  errors"
                    + "   inserts/s   p50 ms   p99 ms   texts/inserts   load");
            for (int clients : options.clients) {
                String before = Machine.load();
                Run run = Load.of(server, farm, ledger, clients).runFor(options.seconds);
                Run base = store.insertFor(clients, options.seconds);
                texts.put(clients, run);
                inserts.put(clients, base);
                System.out.printf(
                        Locale.ROOT,
                        "%7d %9.1f %8.1f %8.1f %8.1f %7d %11.1f %8.2f %8.2f %15.3f   %s to %s%n",
                        clients,
                        run.rate(),
                        run.millis(0.5),
                        run.millis(0.99),
                        run.millis(1),
                        run.errors(),
                        base.rate(),
                        base.millis(0.5),
                        base.millis(0.99),
                        run.rate() / base.rate(),
                        before,
                        Machine.load());
            }
            long waited = System.nanoTime();
            Findings findings = ledger.await(server, farm);
            System.out.printf(
                    Locale.ROOT,
                    "%n%d texts acknowledged, %d on the boards of %d mornings after %.1f s; %d refused%n%s%n",
                    ledger.count(State.NOTED),
                    findings.onBoard,
                    ledger.mornings(),
                    Machine.seconds(waited),
                    ledger.count(State.REFUSED),
                    findings.sentence());
            ledger.refusals.stream().limit(5).forEach(refusal -> System.out.println("refused: " + refusal));
            server.stop();
            server.complain();
            return findings.good()
                    && Stream.concat(texts.values().stream(), inserts.values().stream())
                            .allMatch(run -> run.errors() == 0);
        }
    }

    private static void warmUp(Server server, Farm farm, Ledger ledger, Store store, int clients) throws Exception {
        Load.of(server, farm, ledger, clients).runFor(5);
        store.insertFor(clients, 2);
    }

    // ---------------------------------------------------------------- kill

    private boolean kill() throws Exception {
        if (options.url.isEmpty()) {
            return kill(List.of());
        }
        try (Postgres postgres = Postgres.of(options.url, options.user, options.password)) {
            return kill(postgres.settings());
        }
    }

    private boolean kill(List<String> settings) throws Exception {
        String[] database = settings.toArray(String[]::new);
        int clients = options.clients.get(0);
        Random random = new Random(options.seed);
        Ledger ledger = new Ledger(options.seed, Ledger.EXACT);
        Path data = work.resolve("data");
        Server server = Server.start(jar, data, database);
        Farm farm = Farm.of(server);
        int acknowledged = 0;
        int doubtful = 0;
        int known = 0;
        int lost = 0;
        int doubled = 0;
        List<Double> ready = new ArrayList<>();
        System.out.println(
                "round   kill after s   acknowledged   in doubt   of them in the log   refused   lost   doubled"
                        + "   s to be ready again");
        for (int round = 1; round <= options.times; round++) {
            double after = 1.5 + 2.5 * random.nextDouble();
            int noted = ledger.count(State.NOTED);
            int refused = ledger.count(State.REFUSED);
            Load load = Load.of(server, farm, ledger, clients);
            load.start();
            Thread.sleep((long) (after * 1000));
            load.stopSending = true;
            server.kill();
            load.join();
            List<Integer> inDoubt = ledger.in(State.DOUBT);
            int now = ledger.count(State.NOTED) - noted;

            server = Server.start(jar, data, database);
            ready.add(server.secondsToReady);
            // What was acknowledged must be there before anybody sends anything again.
            Findings before = ledger.await(server, farm);
            int already =
                    (int) inDoubt.stream().filter(before.present::contains).count();
            try (Phone phone = new Phone(server.port)) {
                for (int text : inDoubt) {
                    ledger.answered(text, phone.send(farm, ledger.text(text, text % 8)));
                }
            }
            Findings findings = ledger.await(server, farm);
            int lostNow = Math.max(before.lost, findings.lost);
            int doubledNow = Math.max(before.doubled, findings.doubled);
            acknowledged += now;
            doubtful += inDoubt.size();
            known += already;
            // Findings are of everything since the first round, so the worst of them is the total.
            lost = Math.max(lost, lostNow);
            doubled = Math.max(doubled, doubledNow);
            System.out.printf(
                    Locale.ROOT,
                    "%5d %14.2f %14d %10d %20d %9d %6d %9d %21.1f%n",
                    round,
                    after,
                    now,
                    inDoubt.size(),
                    already,
                    ledger.count(State.REFUSED) - refused,
                    lostNow,
                    doubledNow,
                    server.secondsToReady);
            show("before the resending", before, round, server, farm, ledger);
            show("after the resending", findings, round, server, farm, ledger);
        }
        System.out.printf(
                Locale.ROOT,
                "total %14s %14d %10d %20d %9d %6d %9d %14.1f (median)%n",
                "",
                acknowledged,
                doubtful,
                known,
                ledger.count(State.REFUSED),
                lost,
                doubled,
                Machine.quantile(ready, 0.5));
        System.out.printf("%nlost and doubled are of all texts since the first round, not of one round alone%n");
        ledger.refusals.stream().limit(5).forEach(refusal -> System.out.println("refused: " + refusal));
        boolean same = rebuildsTheSame(server, data, database, farm, ledger);
        return lost == 0 && doubled == 0 && same;
    }

    /** Says what was wrong and keeps the boards as they are a moment later. */
    private void show(String when, Findings findings, int round, Server server, Farm farm, Ledger ledger)
            throws Exception {
        if (!findings.good()) {
            System.out.println("      " + when + ", " + findings.onBoard + " on the boards: " + findings.sentence());
            Path boards = work.resolve("boards-" + round + "-" + when.replace(' ', '-') + ".json");
            Files.write(boards, ledger.boards(server, farm));
            server.complain();
        }
    }

    private boolean rebuildsTheSame(Server server, Path data, String[] database, Farm farm, Ledger ledger)
            throws Exception {
        List<String> before = ledger.boards(server, farm);
        server.stop();
        long started = System.nanoTime();
        Process rebuild = Server.rebuild(jar, data, database);
        boolean ended = rebuild.waitFor(60, TimeUnit.SECONDS);
        double took = Machine.seconds(started);
        if (!ended) {
            System.out.println("THE REBUILD DID NOT END in 60 s and was killed; its log:");
            Files.readAllLines(data.resolveSibling("rebuild.log")).stream()
                    .filter(line -> !line.contains("AnnotationTypeMapping"))
                    .forEach(line -> System.out.println("  " + line));
            rebuild.destroyForcibly().waitFor();
        }
        Server after = Server.start(jar, data, database);
        Findings findings = ledger.await(after, farm);
        boolean same = before.equals(ledger.boards(after, farm));
        System.out.printf(
                Locale.ROOT,
                "rebuild ended with %d after %.1f s; the boards of %d mornings, %d texts on them, are %s%n",
                rebuild.exitValue(),
                took,
                before.size(),
                findings.onBoard,
                same ? "the same to the byte" : "NOT THE SAME");
        after.stop();
        after.complain();
        return ended && rebuild.exitValue() == 0 && same && findings.good();
    }

    // ---------------------------------------------------------------- start

    private boolean start() throws Exception {
        List<Double> fresh = new ArrayList<>();
        List<Double> used = new ArrayList<>();
        Path data = work.resolve("used");
        Ledger ledger = new Ledger(options.seed, Ledger.EXACT);
        Server filled = Server.start(jar, data);
        Farm farm = Farm.of(filled);
        Load.of(filled, farm, ledger, 8).runUntil(ledger.perMorning(), Duration.ofSeconds(60));
        Findings findings = ledger.await(filled, farm);
        filled.stop();
        for (int time = 0; time < options.times; time++) {
            Server server = Server.start(jar, work.resolve("fresh-" + time));
            fresh.add(server.secondsToReady);
            server.stop();
            server = Server.start(jar, data);
            used.add(server.secondsToReady);
            server.stop();
        }
        System.out.printf("data directory         times    min s  median s    max s%n");
        row("fresh", fresh);
        row("used, " + findings.onBoard + " texts", used);
        return findings.good();
    }

    private static void row(String name, List<Double> seconds) {
        System.out.printf(
                Locale.ROOT,
                "%-22s %5d %8.1f %9.1f %8.1f%n",
                name,
                seconds.size(),
                Machine.quantile(seconds, 0),
                Machine.quantile(seconds, 0.5),
                Machine.quantile(seconds, 1));
    }

    /** What the load needs to know of the demo farm. */
    private record Farm(List<String> phones, List<String> rows, ZoneId zone) {

        static Farm of(Server server) throws Exception {
            String farm = server.get("/api/farm");
            Farm found = new Farm(
                    all(farm, "\"phone\":\"([^\"]+)\""),
                    all(farm, "\"row\":\"([0-9]+)\""),
                    ZoneId.of(all(farm, "\"zone\":\"([^\"]+)\"").get(0)));
            if (found.phones.size() != 8 || found.rows.size() != Ledger.ROWS) {
                throw new IOException("not the demo farm: " + farm);
            }
            return found;
        }

        private static List<String> all(String in, String pattern) {
            return Pattern.compile(pattern)
                    .matcher(in)
                    .results()
                    .map(found -> found.group(1))
                    .toList();
        }
    }

    // ---------------------------------------------------------------- what was sent

    private enum State {
        UNSENT,
        NOTED,
        DOUBT,
        REFUSED
    }

    /** One text to send. */
    private record Text(String sid, int phone, int row, int deed, int count, LocalDate morning) {

        /** Evening pegging belongs to the next morning; the rest is said on the morning itself. */
        Instant at(ZoneId zone) {
            return (deed == 0 ? morning.minusDays(1).atTime(18, 0) : morning.atTime(6, 0))
                    .atZone(zone)
                    .toInstant();
        }
    }

    /**
     * Every text of a run and what became of it.
     *
     * <p>A morning has 24 rows and four acts (1 to 4), and each of these 96 cells has seven texts, with the counts 1,
     * 3, 9, 27, 81, 243 and 729. So the sum that the board shows for a cell, written in base three, says of each text
     * by itself whether it was recorded never, once or twice: a lost one can't be made up for by a doubled one. With
     * more texts to a cell every count is 1 and only sums are compared.
     */
    private static final class Ledger {

        static final int ROWS = 24;
        static final int DEEDS = 4;
        static final int EXACT = 7;
        private static final int MOST = 1_000_000;
        private static final int SETTLE_SECONDS = 15;
        private static final LocalDate FIRST = LocalDate.of(2027, 1, 1);
        private static final List<String> NAMES = List.of("pegged", "opened", "pollinated", "bagged");

        private final long seed;
        private final int perCell;
        private final AtomicInteger next = new AtomicInteger();
        private final AtomicIntegerArray states = new AtomicIntegerArray(MOST);
        private final Map<Integer, List<Integer>> orders = new ConcurrentHashMap<>();
        final ConcurrentLinkedQueue<String> refusals = new ConcurrentLinkedQueue<>();

        Ledger(long seed, int perCell) {
            this.seed = seed;
            this.perCell = perCell;
        }

        int perMorning() {
            return ROWS * DEEDS * perCell;
        }

        int next() {
            int text = next.getAndIncrement();
            if (text >= MOST) {
                throw new IllegalStateException("more than " + MOST + " texts in one run");
            }
            return text;
        }

        int mornings() {
            return (next.get() + perMorning() - 1) / perMorning();
        }

        private LocalDate morning(int index) {
            return FIRST.plusDays(index);
        }

        /** Where in its morning a text stands: {@code (cell of row and deed) * perCell + which}, in shuffled order. */
        private int slot(int text) {
            int morning = text / perMorning();
            return orders.computeIfAbsent(morning, key -> {
                        List<Integer> order =
                                IntStream.range(0, perMorning()).boxed().collect(Collectors.toList());
                        Collections.shuffle(order, new Random(seed + key));
                        return order;
                    })
                    .get(text % perMorning());
        }

        private int count(int which) {
            return perCell > EXACT ? 1 : (int) Math.pow(3, which);
        }

        Text text(int text, int phone) {
            int slot = slot(text);
            int cell = slot / perCell;
            return new Text(
                    "bench-" + seed + "-" + text,
                    phone,
                    cell / DEEDS,
                    cell % DEEDS,
                    count(slot % perCell),
                    morning(text / perMorning()));
        }

        void doubtful(int text) {
            states.set(text, State.DOUBT.ordinal());
        }

        boolean answered(int text, Answer answer) {
            boolean noted = answer.noted();
            states.set(text, (noted ? State.NOTED : State.REFUSED).ordinal());
            if (!noted) {
                refusals.add(answer.status + " " + answer.words);
            }
            return noted;
        }

        State state(int text) {
            return State.values()[states.get(text)];
        }

        List<Integer> in(State state) {
            return IntStream.range(0, Math.min(MOST, next.get()))
                    .filter(text -> state(text) == state)
                    .boxed()
                    .toList();
        }

        int count(State state) {
            return in(state).size();
        }

        List<String> boards(Server server, Farm farm) throws Exception {
            List<String> boards = new ArrayList<>();
            for (int morning = 0; morning < mornings(); morning++) {
                boards.add(server.get("/api/board?morning=" + morning(morning)));
            }
            return boards;
        }

        /** Compares until all is right, or nothing changes for longer than a killed server's claims are kept. */
        Findings await(Server server, Farm farm) throws Exception {
            Findings findings = compare(server, farm);
            long changed = System.nanoTime();
            long started = changed;
            while ((!findings.good() || Machine.seconds(changed) < 0.5)
                    && Machine.seconds(changed) < SETTLE_SECONDS
                    && Machine.seconds(started) < 120) {
                Thread.sleep(100);
                Findings again = compare(server, farm);
                if (again.onBoard != findings.onBoard) {
                    changed = System.nanoTime();
                }
                findings = again;
            }
            return findings;
        }

        private Findings compare(Server server, Farm farm) throws Exception {
            Findings findings = new Findings();
            List<String> boards = boards(server, farm);
            for (int morning = 0; morning < boards.size(); morning++) {
                int[] sums = sums(boards.get(morning), farm);
                int[][] texts = new int[ROWS * DEEDS][perCell];
                for (int place = 0; place < perMorning(); place++) {
                    int text = morning * perMorning() + place;
                    int slot = slot(text);
                    texts[slot / perCell][slot % perCell] = text;
                }
                for (int cell = 0; cell < sums.length; cell++) {
                    if (perCell > EXACT) {
                        compareSum(findings, sums[cell], texts[cell]);
                    } else {
                        compareEach(findings, sums[cell], texts[cell]);
                    }
                }
            }
            return findings;
        }

        private void compareEach(Findings findings, int sum, int[] texts) {
            int rest = sum;
            for (int which = 0; which < texts.length; which++) {
                int times = which == texts.length - 1 ? rest : rest % 3;
                rest /= 3;
                findings.text(texts[which], state(texts[which]), times);
            }
        }

        private void compareSum(Findings findings, int sum, int[] texts) {
            int noted = (int) Arrays.stream(texts)
                    .filter(text -> state(text) == State.NOTED)
                    .count();
            int doubt = (int) Arrays.stream(texts)
                    .filter(text -> state(text) == State.DOUBT)
                    .count();
            findings.onBoard += sum;
            findings.lost += Math.max(0, noted - sum);
            findings.doubled += Math.max(0, sum - noted - doubt);
        }

        private static int[] sums(String board, Farm farm) throws IOException {
            int[] sums = new int[ROWS * DEEDS];
            Arrays.fill(sums, -1);
            String[] parts = board.split(Pattern.quote("{\"row\":\""));
            for (int part = 1; part < parts.length; part++) {
                String row = parts[part].substring(0, parts[part].indexOf('"'));
                for (int deed = 0; deed < DEEDS; deed++) {
                    Matcher found = Pattern.compile("\"" + NAMES.get(deed) + "\":([0-9]+)")
                            .matcher(parts[part]);
                    if (found.find()) {
                        sums[farm.rows.indexOf(row) * DEEDS + deed] = Integer.parseInt(found.group(1));
                    }
                }
            }
            if (Arrays.stream(sums).anyMatch(sum -> sum < 0)) {
                throw new IOException("not a board of every row: " + board);
            }
            return sums;
        }
    }

    /** What a comparison of the boards with the ledger found. */
    private static final class Findings {

        private final List<String> details = new ArrayList<>();
        private final java.util.Set<Integer> present = new java.util.HashSet<>();
        private int onBoard;
        private int lost;
        private int doubled;

        void text(int text, State state, int times) {
            onBoard += times;
            if (times > 0) {
                present.add(text);
            }
            if (state == State.NOTED && times == 0) {
                lost++;
                details.add("lost: text " + text + ", acknowledged, is not on the board");
            }
            boolean noneExpected = state == State.REFUSED || state == State.UNSENT;
            if (times > 1 || (noneExpected && times > 0)) {
                doubled++;
                details.add("doubled: text " + text + " is on the board " + times + " times; it is " + state);
            }
        }

        boolean good() {
            return lost == 0 && doubled == 0;
        }

        String sentence() {
            return good()
                    ? "The boards hold every acknowledged text once, and nothing else."
                    : "LOST " + lost + ", DOUBLED " + doubled + "\n"
                            + String.join("\n", details.subList(0, Math.min(5, details.size())));
        }
    }

    // ---------------------------------------------------------------- load

    /** What a text was answered. */
    private record Answer(int status, String words) {

        boolean noted() {
            return status == 200 && words.startsWith("Row ");
        }
    }

    /** A phone of the crew; one connection, kept open. */
    private static final class Phone implements AutoCloseable {

        private static final Pattern MESSAGE = Pattern.compile("<Message>(.*)</Message>", Pattern.DOTALL);

        private final Wire wire;

        Phone(int port) {
            wire = new Wire(port, 30_000);
        }

        Answer send(Farm farm, Text text) throws IOException {
            String form = "From=" + Wire.encode(farm.phones.get(text.phone % farm.phones.size()))
                    + "&To=" + Wire.encode("+15555550000")
                    + "&Body=" + Wire.encode((text.deed + 1) + " " + farm.rows.get(text.row) + " " + text.count)
                    + "&MessageSid=" + Wire.encode(text.sid);
            Wire.Answer answer =
                    wire.post("/field/text", form, text.at(farm.zone).toString());
            Matcher message = MESSAGE.matcher(answer.text());
            return new Answer(answer.status(), message.find() ? message.group(1) : answer.text());
        }

        @Override
        public void close() {
            wire.close();
        }
    }

    /** Clients that send texts back to back, each the next one when the one before is answered. */
    private static final class Load {

        private final Server server;
        private final Farm farm;
        private final Ledger ledger;
        private final List<Thread> threads = new ArrayList<>();
        private final List<Samples> samples = new ArrayList<>();
        private volatile boolean stopSending;
        private volatile int last = Integer.MAX_VALUE;

        private Load(Server server, Farm farm, Ledger ledger) {
            this.server = server;
            this.farm = farm;
            this.ledger = ledger;
        }

        static Load of(Server server, Farm farm, Ledger ledger, int clients) {
            Load load = new Load(server, farm, ledger);
            for (int client = 0; client < clients; client++) {
                int number = client;
                Samples own = new Samples();
                load.samples.add(own);
                load.threads.add(new Thread(() -> load.client(number, own), "client-" + client));
            }
            return load;
        }

        private void client(int number, Samples own) {
            try (Phone phone = new Phone(server.port)) {
                while (!stopSending && ledger.next.get() < last) {
                    int text = ledger.next();
                    ledger.doubtful(text);
                    long started = System.nanoTime();
                    try {
                        if (ledger.answered(text, phone.send(farm, ledger.text(text, number)))) {
                            own.add(System.nanoTime() - started);
                        } else {
                            own.errors++;
                        }
                    } catch (IOException e) {
                        own.errors++; // stays in doubt
                        if (!server.process.isAlive() || stopSending) {
                            return;
                        }
                        resend(phone, text, number);
                    }
                }
            }
        }

        /** As a carrier does, with the same id. */
        private void resend(Phone phone, int text, int number) {
            try {
                ledger.answered(text, phone.send(farm, ledger.text(text, number)));
            } catch (IOException e) {
                System.out.println("text " + text + " got no answer twice: " + e);
            }
        }

        void start() {
            threads.forEach(Thread::start);
        }

        void join() throws InterruptedException {
            for (Thread thread : threads) {
                thread.join(90_000);
                if (thread.isAlive()) {
                    throw new IllegalStateException(thread.getName() + " hangs");
                }
            }
        }

        Run runFor(int seconds) throws InterruptedException {
            return run(Duration.ofSeconds(seconds));
        }

        /** Sends until there were so many texts, or until the time is up. */
        void runUntil(int texts, Duration atMost) throws InterruptedException {
            last = texts;
            run(atMost);
        }

        private Run run(Duration atMost) throws InterruptedException {
            long started = System.nanoTime();
            start();
            while (System.nanoTime() - started < atMost.toNanos() && ledger.next.get() < last) {
                Thread.sleep(20);
            }
            stopSending = true;
            join();
            return new Run(samples, Machine.seconds(started));
        }
    }

    /** How long each thing took that one thread did. */
    private static final class Samples {

        private long[] nanos = new long[1024];
        private int size;
        private int errors;

        void add(long took) {
            if (size == nanos.length) {
                nanos = Arrays.copyOf(nanos, 2 * size);
            }
            nanos[size++] = took;
        }
    }

    /** What a run measured. */
    private record Run(long[] nanos, int errors, double seconds) {

        Run(List<Samples> samples, double seconds) {
            this(
                    samples.stream()
                            .flatMapToLong(own -> Arrays.stream(own.nanos, 0, own.size))
                            .sorted()
                            .toArray(),
                    samples.stream().mapToInt(own -> own.errors).sum(),
                    seconds);
        }

        double rate() {
            return nanos.length / seconds;
        }

        double millis(double quantile) {
            return nanos.length == 0 ? Double.NaN : nanos[(int) Math.round(quantile * (nanos.length - 1))] / 1e6;
        }
    }

    // ---------------------------------------------------------------- the baseline

    /**
     * The database alone: the server's own H2, out of its jar, with the same options, a table made as the log's, one
     * row of an event's size and one commit at a time.
     */
    private static final class Store implements AutoCloseable {

        private static final int PAYLOAD_BYTES = 275;
        private static final int METADATA_BYTES = 105;

        private final URLClassLoader loader;
        private final Driver driver;
        private final String url;
        private final Connection keptOpen;
        private final AtomicInteger next = new AtomicInteger();

        private Store(URLClassLoader loader, Driver driver, String url) throws SQLException {
            this.loader = loader;
            this.driver = driver;
            this.url = url;
            this.keptOpen = connect();
            try (Statement statement = keptOpen.createStatement()) {
                statement.execute(Machine.TABLE_AS_THE_LOGS);
            }
        }

        static Store open(Path jar, Path work) throws Exception {
            URLClassLoader loader = new URLClassLoader(new URL[] {jar.toUri().toURL()});
            Driver driver = (Driver)
                    loader.loadClass("org.h2.Driver").getDeclaredConstructor().newInstance();
            return new Store(
                    loader,
                    driver,
                    "jdbc:h2:file:" + work.resolve("baseline")
                            + ";WRITE_DELAY=0;LOCK_TIMEOUT=10000;DB_CLOSE_ON_EXIT=FALSE");
        }

        private Connection connect() throws SQLException {
            return driver.connect(url, new Properties());
        }

        Run insertFor(int threads, int seconds) throws InterruptedException {
            List<Samples> samples = new ArrayList<>();
            List<Thread> all = new ArrayList<>();
            long started = System.nanoTime();
            long end = started + TimeUnit.SECONDS.toNanos(seconds);
            for (int thread = 0; thread < threads; thread++) {
                Samples own = new Samples();
                samples.add(own);
                all.add(new Thread(() -> insertUntil(end, own), "insert-" + thread));
            }
            all.forEach(Thread::start);
            for (Thread thread : all) {
                thread.join();
            }
            return new Run(samples, Machine.seconds(started));
        }

        private void insertUntil(long end, Samples own) {
            byte[] payload = new byte[PAYLOAD_BYTES];
            byte[] metadata = new byte[METADATA_BYTES];
            Random random = new Random(next.incrementAndGet());
            try (Connection connection = connect();
                    PreparedStatement insert = connection.prepareStatement(
                            "insert into event (event_id, stream, sequence, stream_type, event_type, payload, metadata,"
                                    + " stored_at) values (?, ?, ?, 'Page', 'pegged', ?, ?, ?)")) {
                connection.setAutoCommit(false);
                while (System.nanoTime() < end) {
                    int number = next.incrementAndGet();
                    random.nextBytes(payload);
                    random.nextBytes(metadata);
                    insert.setString(1, "00000000-0000-0000-0000-" + String.format("%012d", number));
                    insert.setString(2, "marrowfield/row/" + number % 24 + "/2027-01-01");
                    insert.setLong(3, number);
                    insert.setBytes(4, payload);
                    insert.setBytes(5, metadata);
                    insert.setString(6, "2027-01-01T04:00:00.000Z");
                    long started = System.nanoTime();
                    insert.executeUpdate();
                    connection.commit();
                    own.add(System.nanoTime() - started);
                }
            } catch (SQLException e) {
                own.errors++;
                System.out.println("the baseline failed: " + e);
            }
        }

        @Override
        public void close() throws SQLException, IOException {
            keptOpen.close();
            loader.close();
        }
    }

    // ---------------------------------------------------------------- the rest

    /** The command line. */
    private record Options(
            String command,
            List<Integer> clients,
            int seconds,
            int times,
            int perCell,
            Path jar,
            long seed,
            String url,
            String user,
            String password) {

        static Options of(String[] arguments) {
            String command = arguments.length == 0 ? "" : arguments[0];
            Map<String, String> given = new HashMap<>(Map.of(
                    "--clients",
                    command.equals("kill") ? "8" : "1,16",
                    "--seconds",
                    "15",
                    "--times",
                    command.equals("start") ? "5" : "10",
                    "--per-cell",
                    Integer.toString(Ledger.EXACT),
                    "--jar",
                    "projections/target/duskpeg.jar",
                    "--seed",
                    "20260101"));
            given.putAll(Map.of("--url", "", "--user", "postgres", "--password", "postgres"));
            if (!List.of("texts", "kill", "start").contains(command)) {
                throw new IllegalArgumentException("Which command?");
            }
            for (int i = 1; i < arguments.length; i += 2) {
                if (!given.containsKey(arguments[i]) || i + 1 == arguments.length) {
                    throw new IllegalArgumentException("Not understood: " + arguments[i]);
                }
                given.put(arguments[i], arguments[i + 1]);
            }
            Path jar = Path.of(given.get("--jar"));
            if (!Files.isRegularFile(jar)) {
                throw new IllegalArgumentException("There is no " + jar.toAbsolutePath() + "; build it, or say --jar");
            }
            return new Options(
                    command,
                    Stream.of(given.get("--clients").split(","))
                            .map(clients -> within(clients, 256))
                            .toList(),
                    within(given.get("--seconds"), 600),
                    within(given.get("--times"), 100),
                    within(given.get("--per-cell"), 900),
                    jar,
                    Long.parseLong(given.get("--seed")),
                    given.get("--url"),
                    given.get("--user"),
                    given.get("--password"));
        }

        private static int within(String number, int most) {
            int value = Integer.parseInt(number.strip());
            if (value < 1 || value > most) {
                throw new IllegalArgumentException(value + " is not within 1 and " + most);
            }
            return value;
        }
    }
}
