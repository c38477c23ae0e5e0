import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.planting.Planting;
import duskpeg.core.text.Texts;
import duskpeg.messaging.text.HearText;
import duskpeg.messaging.text.Hearing;
import duskpeg.server.Duskpeg;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.web.servlet.context.ServletWebServerApplicationContext;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Reports by the command path and by {@code /field/text}, beside what the database does by itself: rows of the same bytes,
 * one commit each, by as many clients; and beside the framework's JPA starter, where its jar is given. One after the other
 * in one process, round by round, so that all have the same machine. See {@code docs/benchmarks.md}.
 */
final class Paths {

    private static final int ROWS = 24;
    private static final int PER_MORNING = ROWS * 28;
    private static final LocalDate FIRST = LocalDate.of(2030, 1, 1);

    private final JdbcClient jdbc;
    private final Hearing hearing;
    private final FarmId farm;
    private final List<String> phones;
    private final List<String> rows;
    private final int port;
    private final AtomicInteger next = new AtomicInteger();
    private final AtomicInteger answered = new AtomicInteger();

    private Paths(ConfigurableApplicationContext server) {
        jdbc = server.getBean(JdbcClient.class);
        hearing = server.getBean(Hearing.class);
        Index index = server.getBean(Index.class);
        farm = index.farms().get(0);
        phones = server.getBean(People.class).all(farm).stream()
                .map(People.Person::phone)
                .toList();
        rows = index.plantings(farm).stream()
                .map(Planting::rows)
                .flatMap(List::stream)
                .map(row -> row.id().label())
                .toList();
        port = ((ServletWebServerApplicationContext) server).getWebServer().getPort();
    }

    /** One thing that a client does again and again. */
    private interface Client extends AutoCloseable {

        void once() throws Exception;

        @Override
        default void close() throws Exception {}
    }

    private interface Clients {

        Client client() throws Exception;
    }

    private record Run(double rate, double median, double p99) {

        static final Run NONE = new Run(Double.NaN, Double.NaN, Double.NaN);
    }

    public static void main(String[] arguments) throws Exception {
        List<String> given = Arrays.asList(arguments);
        boolean postgresql = given.contains("postgresql");
        int seconds = Integer.parseInt(after(given, "--seconds", "15"));
        int warm = Integer.parseInt(after(given, "--warm", "60"));
        String starter = after(given, "--starter", "");
        List<Integer> clients = Stream.of(
                        after(given, "--clients", "1,8,32,128").split(",", -1))
                .map(Integer::valueOf)
                .toList();
        Path work = Files.createTempDirectory("duskpeg-bench-");
        System.out.printf(
                "paths on %s, %s, Java %s, %d CPUs, load average %s%n",
                postgresql ? "PostgreSQL" : "H2",
                Instant.now(),
                Runtime.version(),
                Runtime.getRuntime().availableProcessors(),
                Machine.load());
        boolean good = false;
        try (Database database = postgresql ? Database.postgresql() : Database.h2(work)) {
            List<String> settings = new ArrayList<>(database.settings("server"));
            settings.addAll(List.of(
                    "--server.port=0",
                    "--server.address=127.0.0.1",
                    "--duskpeg.schedule=false",
                    "--duskpeg.demo-season=false",
                    "--duskpeg.data-dir=" + work.resolve("data")));
            try (ConfigurableApplicationContext server =
                    new SpringApplicationBuilder(Duskpeg.class).run(settings.toArray(String[]::new))) {
                good = new Paths(server).run(database, clients, seconds, warm, starter);
            }
        } finally {
            Machine.delete(work);
        }
        System.out.println("load average at the end " + Machine.load());
        System.exit(good ? 0 : 1);
    }

    private static String after(List<String> given, String name, String otherwise) {
        int at = given.indexOf(name);
        return at < 0 ? otherwise : given.get(at + 1);
    }

    private boolean run(Database database, List<Integer> clients, int seconds, int warm, String starter)
            throws Exception {
        Clients inserts = () -> new Insert(database);
        measure(inserts, 32, Math.max(1, warm / 10));
        measure(Command::new, 32, warm);
        measure(Post::new, 32, Math.max(1, warm / 2));
        System.out.println("clients   inserts/s  p50 ms  p99 ms   commands/s  p50 ms  p99 ms   ratio"
                + "   texts/s  p50 ms  p99 ms   ratio   starter/s   commands/starter");
        for (int count : clients) {
            Run insert = measure(inserts, count, seconds);
            Run command = measure(Command::new, count, seconds);
            Run text = measure(Post::new, count, seconds);
            Run other = starter.isEmpty() ? Run.NONE : starter(database, starter, count, seconds, warm);
            System.out.printf(
                    Locale.ROOT,
                    "%7d  %10.0f %7.2f %7.2f   %10.0f %7.2f %7.2f %7.2f   %7.0f %7.2f %7.2f %7.2f   %9.0f   %16.1f%n",
                    count,
                    insert.rate,
                    insert.median,
                    insert.p99,
                    command.rate,
                    command.median,
                    command.p99,
                    command.rate / insert.rate,
                    text.rate,
                    text.median,
                    text.p99,
                    text.rate / insert.rate,
                    other.rate,
                    command.rate / other.rate);
        }
        int kept = jdbc.sql("select count(*) from field_text where reply like 'Row %'")
                .query(Integer.class)
                .single();
        int events = jdbc.sql("select count(*) from event where stream like ? and event_type <> 'planting-laid-out'")
                .param(farm + "/row/%/20%")
                .query(Integer.class)
                .single();
        System.out.printf(
                "%d answered; %d answers and %d events in the database: %s%n",
                answered.get(), kept, events, answered.get() == kept && kept == events ? "each once" : "NOT THE SAME");
        return answered.get() == kept && kept == events;
    }

    private static Run measure(Clients clients, int count, int seconds) throws Exception {
        List<long[]> took = new ArrayList<>();
        List<Thread> threads = new ArrayList<>();
        List<Exception> failed = new ArrayList<>();
        List<Client> all = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            all.add(clients.client());
        }
        long began = System.nanoTime();
        long end = began + TimeUnit.SECONDS.toNanos(seconds);
        for (Client client : all) {
            threads.add(new Thread(() -> {
                long[] own = new long[1024];
                int size = 0;
                try (client) {
                    while (System.nanoTime() < end) {
                        long since = System.nanoTime();
                        client.once();
                        if (size == own.length) {
                            own = Arrays.copyOf(own, 2 * size);
                        }
                        own[size++] = System.nanoTime() - since;
                    }
                } catch (Exception e) {
                    synchronized (failed) {
                        failed.add(e);
                    }
                }
                synchronized (took) {
                    took.add(Arrays.copyOf(own, size));
                }
            }));
        }
        threads.forEach(Thread::start);
        for (Thread thread : threads) {
            thread.join();
        }
        double elapsed = Machine.seconds(began);
        if (!failed.isEmpty()) {
            throw failed.get(0);
        }
        long[] nanos = took.stream().flatMapToLong(Arrays::stream).sorted().toArray();
        return new Run(
                nanos.length / elapsed, nanos[nanos.length / 2] / 1e6, nanos[(int) (0.99 * (nanos.length - 1))] / 1e6);
    }

    /** Text number so and so: each row and act of a morning has seven texts. */
    private Texts.Text text(int number) {
        int ofMorning = number % PER_MORNING;
        int row = ofMorning % ROWS;
        int deed = ofMorning / ROWS % 4;
        LocalDate morning = FIRST.plusDays(number / PER_MORNING);
        Instant heard =
                (deed == 0 ? morning.minusDays(1).atTime(15, 0) : morning.atTime(5, 0)).toInstant(ZoneOffset.UTC);
        return new Texts.Text(
                new TextId(farm, "SMpaths" + number),
                phones.get(number % phones.size()),
                (deed + 1) + " " + rows.get(row) + " " + (1 + number % 9),
                "0123456789abcdef0123456789abcdef",
                heard);
    }

    private void answered(String answer) throws IOException {
        if (!answer.startsWith("Row ")) {
            throw new IOException("not taken: " + answer);
        }
        answered.incrementAndGet();
    }

    /** The command path: a report as the text edge hands it on. */
    private final class Command implements Client {

        @Override
        public void once() throws Exception {
            answered(hearing.hear(new HearText(text(next.getAndIncrement()))));
        }
    }

    /** A report as a carrier posts it. */
    private final class Post implements Client {

        private final Wire wire = new Wire(port, 30_000);

        @Override
        public void once() throws Exception {
            Texts.Text text = text(next.getAndIncrement());
            String answer = wire.post(
                            "/field/text",
                            "From=" + Wire.encode(text.sender()) + "&To=" + Wire.encode("+15555550100") + "&Body="
                                    + Wire.encode(text.words()) + "&MessageSid="
                                    + text.id().value(),
                            text.heard().toString())
                    .text();
            answered(answer.replaceAll("(?s).*<Message>", ""));
        }

        @Override
        public void close() {
            wire.close();
        }
    }

    /** A row of an event's bytes, committed alone. */
    private static final class Insert implements Client {

        private final Connection connection;
        private final PreparedStatement insert;
        private final String stream = "bench/row/1/" + UUID.randomUUID();
        private long sequence;

        Insert(Database database) throws SQLException {
            connection = database.connect();
            insert = connection.prepareStatement(
                    "insert into event (event_id, stream, sequence, stream_type, event_type,"
                            + " revision, payload, metadata, stored_at) values (?, ?, ?, 'Page', 'pegged', '2', ?, ?, ?)");
        }

        @Override
        public void once() throws SQLException {
            insert.setString(1, UUID.randomUUID().toString());
            insert.setString(2, stream);
            insert.setLong(3, sequence++);
            insert.setBytes(4, new byte[275]);
            insert.setBytes(5, new byte[105]);
            insert.setString(6, "2030-01-01T05:00:00.000Z");
            insert.executeUpdate();
        }

        @Override
        public void close() throws SQLException {
            connection.close();
        }
    }

    private static Run starter(Database database, String jar, int clients, int seconds, int warm) throws Exception {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-jar",
                jar,
                String.valueOf(clients),
                String.valueOf(seconds),
                String.valueOf(warm)));
        command.addAll(database.settings("starter" + clients));
        command.addAll(List.of(
                "--spring.jpa.hibernate.ddl-auto=update",
                "--axon.serializer.general=jackson",
                "--axon.update-check.disabled=true",
                "--logging.level.root=error"));
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
            String result = out.lines()
                    .filter(line -> line.startsWith("RESULT "))
                    .findFirst()
                    .orElse("RESULT NaN NaN NaN");
            if (!result.endsWith(" 0 failed")) {
                System.out.println("  the starter: " + result);
            }
            String[] parts = result.replace(",", "").split(" ", -1);
            return new Run(Double.parseDouble(parts[1]), Double.parseDouble(parts[2]), Double.parseDouble(parts[3]));
        } finally {
            process.destroyForcibly().waitFor();
        }
    }

    /** Where all of them write: databases of their own on one engine. */
    private interface Database extends AutoCloseable {

        List<String> settings(String name) throws SQLException;

        Connection connect() throws SQLException;

        static Database h2(Path work) throws SQLException {
            String options = ";WRITE_DELAY=0;LOCK_TIMEOUT=10000;DB_CLOSE_ON_EXIT=FALSE";
            String url = "jdbc:h2:file:" + work.resolve("inserts") + options;
            Connection open = DriverManager.getConnection(url);
            createTable(open);
            return new Database() {
                @Override
                public List<String> settings(String name) {
                    // The server knows its own.
                    return name.equals("server")
                            ? List.of()
                            : List.of("--spring.datasource.url=jdbc:h2:file:" + work.resolve(name) + options);
                }

                @Override
                public Connection connect() throws SQLException {
                    return DriverManager.getConnection(url);
                }

                @Override
                public void close() throws SQLException {
                    open.close();
                }
            };
        }

        static Database postgresql() throws Exception {
            Postgres server = Postgres.durable();
            Connection open = server.connect("postgres");
            createTable(open);
            return new Database() {
                @Override
                public List<String> settings(String name) throws SQLException {
                    try (Statement statement = open.createStatement()) {
                        statement.execute("create database " + name);
                    }
                    return server.settings(name);
                }

                @Override
                public Connection connect() throws SQLException {
                    return server.connect("postgres");
                }

                @Override
                public void close() throws Exception {
                    open.close();
                    server.close();
                }
            };
        }

        private static void createTable(Connection connection) throws SQLException {
            try (Statement statement = connection.createStatement()) {
                statement.execute(Machine.TABLE_AS_THE_LOGS);
            }
        }
    }
}
