import duskpeg.core.audit.Bundle;
import duskpeg.core.audit.Check;
import duskpeg.core.audit.Check.What;
import duskpeg.core.audit.Container;
import duskpeg.core.audit.Part;
import duskpeg.core.audit.Verifier;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotId;
import duskpeg.core.planting.Species;
import duskpeg.core.store.StoredEvents;
import duskpeg.projections.ledger.Ledger;
import duskpeg.projections.ledger.Ledger.Inspection;
import duskpeg.projections.rebuild.CatchUp;
import duskpeg.server.Duskpeg;
import java.io.OutputStream;
import java.io.PrintStream;
import java.lang.reflect.Method;
import java.net.URI;
import java.net.URL;
import java.net.URLClassLoader;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import javax.tools.ToolProvider;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.web.servlet.context.ServletWebServerApplicationContext;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Changes single bytes of what an auditor is given, of what she kept and of what lies in the database, and counts what
 * was not found; {@code docs/benchmarks.md}.
 *
 * <pre>java -cp projections/target/bench:projections/target/duskpeg.jar Tamper [--places 10000] [--seed 1]</pre>
 *
 * <p>Exits with 1 if anything was changed unseen that is not listed in {@link #OUTSIDE}.
 */
final class Tamper {

    /** What proves nothing, so that a change of it by one who can also sign may go unseen, and why. */
    private static final Map<String, String> OUTSIDE = Map.of(
            "sealed anew: README.txt", "words",
            "sealed anew: audit.md", "words",
            "sealed anew: schema.json", "words for other programs",
            "sealed anew: Verify.java", "a program that must be had from elsewhere",
            "sealed anew: key.txt", "not read where the auditor brings the key",
            "stored: stream_type", "not part of the leaf, and of no meaning");

    /** What the small program leaves to the large one. */
    private static final String ALONE_OUTSIDE = "sealed anew: claim.txt";

    private static final FarmId FARM = new FarmId("marrowfield");

    private static final List<String[]> SEASON = List.of(
            new String[] {"2026-11-25T17:00:00+02:00", "0102", "1 12 14 m 28\n1 13 3 m 6"},
            new String[] {"2026-11-26T06:40:00+02:00", "0101", "2345 12 6"},
            new String[] {"2026-11-26T07:10:00+02:00", "0103", "2345 13 3\n8 12 1 1"},
            new String[] {"2026-11-26T07:20:00+02:00", "0102", "2345 12 3"},
            new String[] {"2026-11-26T07:30:00+02:00", "0102", "0"},
            new String[] {"2026-12-04T09:00:00+02:00", "0103", "6 4702"},
            new String[] {"2027-01-25T09:00:00+02:00", "0103", "7 4700 4703"});

    private final int places;
    private final Random random;
    private final Path work;
    private final Map<String, Row> rows = new LinkedHashMap<>();
    private ConfigurableApplicationContext server;
    private Method alone;
    private String kept;
    private List<VerifierKey> keys;

    private Tamper(int places, long seed, Path work) {
        this.places = places;
        this.random = new Random(seed);
        this.work = work;
    }

    public static void main(String[] arguments) throws Exception {
        Map<String, String> options = new LinkedHashMap<>(Map.of("--places", "10000", "--seed", "1"));
        for (int i = 0; i + 1 < arguments.length; i += 2) {
            options.put(arguments[i], arguments[i + 1]);
        }
        Path work = Files.createTempDirectory("tamper");
        Tamper tamper =
                new Tamper(Integer.parseInt(options.get("--places")), Long.parseLong(options.get("--seed")), work);
        int status;
        try {
            status = tamper.run();
        } finally {
            if (tamper.server != null) {
                tamper.server.close();
            }
            Machine.delete(work);
        }
        System.exit(status);
    }

    /** What was found of the changes in one kind of place. */
    private static final class Row {
        private int places;
        private int unseen;
        private int unseenAlone;
        private final Map<What, Integer> by = new EnumMap<>(What.class);
        private int otherwise;
    }

    private int run() throws Exception {
        server = new SpringApplicationBuilder(Duskpeg.class)
                .run(
                        "--server.port=0",
                        "--server.address=127.0.0.1",
                        "--duskpeg.demo=true",
                        "--duskpeg.demo-season=false",
                        "--duskpeg.data-dir=" + work);
        server.getBean(CatchUp.class).await(Duration.ofMinutes(1));
        kept = new String(get("/api/ledger/checkpoint", SEASON.get(0)[0]), StandardCharsets.UTF_8);
        for (String[] text : SEASON) {
            text(text[0], "+1555555" + text[1], text[2]);
            server.getBean(CatchUp.class).await(Duration.ofMinutes(1));
            get("/api/ledger/checkpoint", text[0]);
        }
        lot(Instant.parse("2027-01-26T09:00:00Z"));
        keys = server.getBean(Ledger.class).keys(FARM);
        String since = "&since=" + Checkpoint.parse(Note.parse(kept).text()).size();
        List<byte[]> bundles = new ArrayList<>();
        for (String query :
                List.of("tie=4703", "tie=4702", "row=12&morning=2026-11-26", "lot=AS-27", "tie=4703&whole=true")) {
            bundles.add(get("/api/audit/bundle?" + query + since, "2027-02-01T09:00:00+02:00"));
        }
        alone = compiled(Container.read(bundles.get(0)).get("Verify.java"));
        for (byte[] bundle : bundles) {
            if (!look("", bundle, kept).isEmpty()) {
                throw new IllegalStateException("a bundle that nobody changed does not hold");
            }
        }
        for (int i = 0; i < places; i++) {
            byte[] bundle = bundles.get(random.nextInt(bundles.size()));
            switch (i % 5) {
                case 0 -> look("the file as it lies", flipped(bundle), kept);
                case 1 -> contents(bundle, false);
                case 2 -> contents(bundle, true);
                case 3 -> look("the checkpoint she kept", bundle, text(flipped(kept.getBytes(StandardCharsets.UTF_8))));
                default -> stored();
            }
        }
        return print();
    }

    /** A lot of two fruit, and a third that was withdrawn. */
    private void lot(Instant at) {
        LotId lot = new LotId(FARM, "AS-27");
        WorkerId by = new WorkerId(FARM, "w8");
        for (LotEvent event : List.of(
                new LotEvent.Begun(lot, "Amber Spindle", Species.PEPO, by, at),
                new LotEvent.FruitTaken(lot, List.of(taken("004700"), taken("004703")), by, at),
                new LotEvent.FruitTaken(lot, List.of(taken("004701")), by, at),
                new LotEvent.Withdrawn(lot, 3, "another tie", by, at))) {
            server.getBean(CommandGateway.class).sendAndWait(new FieldBook.Enter(event));
        }
        server.getBean(CatchUp.class).await(Duration.ofMinutes(1));
    }

    private static LotEvent.Taken taken(String tie) {
        return new LotEvent.Taken(new FruitId(FARM, new TieNumber(tie)), "pure", "2", null, List.of());
    }

    private void text(String now, String from, String words) throws Exception {
        String form = Map.of(
                        "From", from, "To", "+15555550100", "Body", words, "MessageSid", "SM" + random.nextInt(1 << 30))
                .entrySet()
                .stream()
                .map(one -> one.getKey() + "=" + URLEncoder.encode(one.getValue(), StandardCharsets.UTF_8))
                .collect(Collectors.joining("&"));
        String answer = new String(
                send(HttpRequest.newBuilder(address("/field/text"))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .header("X-Duskpeg-Now", now)
                        .POST(HttpRequest.BodyPublishers.ofString(form))),
                StandardCharsets.UTF_8);
        if (answer.contains("Not noted")) {
            throw new IllegalStateException(answer);
        }
    }

    private URI address(String path) {
        int port = ((ServletWebServerApplicationContext) server).getWebServer().getPort();
        return URI.create("http://127.0.0.1:" + port + path);
    }

    private byte[] get(String path, String now) throws Exception {
        return send(HttpRequest.newBuilder(address(path)).header("X-Duskpeg-Now", now));
    }

    private static byte[] send(HttpRequest.Builder request) throws Exception {
        var response = HttpClient.newHttpClient().send(request.build(), BodyHandlers.ofByteArray());
        if (response.statusCode() != 200) {
            throw new IllegalStateException(response.uri() + " was answered " + response.statusCode());
        }
        return response.body();
    }

    private Method compiled(byte[] source) throws Exception {
        Path file = work.resolve("Verify.java");
        Files.write(file, source);
        int status = ToolProvider.getSystemJavaCompiler().run(null, null, null, "-d", work.toString(), file.toString());
        if (status != 0) {
            throw new IllegalStateException("Verify.java does not compile");
        }
        return new URLClassLoader(new URL[] {work.toUri().toURL()}, null)
                .loadClass("Verify")
                .getMethod("run", String[].class, PrintStream.class);
    }

    private byte[] flipped(byte[] bytes) {
        byte[] flipped = bytes.clone();
        flipped[random.nextInt(bytes.length)] ^= (byte) (1 + random.nextInt(255));
        return flipped;
    }

    private static String text(byte[] bytes) {
        return new String(bytes, StandardCharsets.UTF_8);
    }

    /** Changes a file and packs anew; then, as one who has the farm's key can, signs the list of files anew. */
    private void contents(byte[] bundle, boolean anew) throws Exception {
        Map<String, byte[]> files = new LinkedHashMap<>(Container.read(bundle));
        List<String> names = files.keySet().stream()
                .filter(name -> files.get(name).length > 0 && !(anew && name.equals("bundle.txt")))
                .toList();
        String name = names.get(random.nextInt(names.size()));
        files.put(name, flipped(files.get(name)));
        String kind = name.replaceFirst("/.*", "/");
        if (anew) {
            Checkpoint checkpoint =
                    Checkpoint.parse(Note.parse(text(Container.read(bundle).get("checkpoint.txt")))
                            .text());
            files.remove("bundle.txt");
            Note seal = server.getBean(Ledger.class).sign(FARM, Bundle.seal(checkpoint, Part.of(files)));
            files.put("bundle.txt", seal.toString().getBytes(StandardCharsets.UTF_8));
            look("sealed anew: " + kind, Container.write(files), kept);
        } else {
            look("packed anew: " + kind, Container.write(files), kept);
        }
    }

    /** Lets both programs look, and counts. */
    private Set<What> look(String where, byte[] bundle, String checkpoint) throws Exception {
        Set<What> by = new HashSet<>();
        for (Check check : Verifier.verify(bundle, keys, List.of(), checkpoint, StoredEvents::read)
                .checks()) {
            if (check.result() == Check.Result.FAILS || check.result() == Check.Result.CANNOT) {
                by.add(check.what());
            }
        }
        Path file = work.resolve("bundle.zip");
        Path old = work.resolve("old.txt");
        Files.write(file, bundle);
        Files.writeString(old, checkpoint);
        List<String> arguments = new ArrayList<>(List.of(file.toString(), "--checkpoint", old.toString()));
        keys.forEach(key -> arguments.addAll(List.of("--key", key.toString())));
        int status = (int)
                alone.invoke(null, arguments.toArray(String[]::new), new PrintStream(OutputStream.nullOutputStream()));
        if (where.isEmpty()) {
            if (status != 0) {
                by.add(What.CONTAINER);
            }
            return by;
        }
        Row row = rows.computeIfAbsent(where, one -> new Row());
        row.places++;
        row.unseen += by.isEmpty() ? 1 : 0;
        row.unseenAlone += status == 0 ? 1 : 0;
        by.forEach(what -> row.by.merge(what, 1, Integer::sum));
        return by;
    }

    /** Changes a byte of an event in the database, lets the farm's own check look, and puts it right again. */
    private void stored() {
        JdbcClient jdbc = server.getBean(JdbcClient.class);
        List<String> ids = jdbc.sql("select event_id from event order by position")
                .query(String.class)
                .list();
        String id = ids.get(random.nextInt(ids.size()));
        List<String> columns = List.of(
                "payload",
                "payload",
                "payload",
                "payload",
                "metadata",
                "stream",
                "event_type",
                "revision",
                "stored_at",
                "stream_type");
        String column = columns.get(random.nextInt(columns.size()));
        boolean binary = column.equals("payload") || column.equals("metadata");
        Object was = jdbc.sql("select " + column + " from event where event_id = ?")
                .param(id)
                .query((row, number) -> binary ? row.getBytes(1) : row.getString(1))
                .single();
        Object is = binary ? flipped((byte[]) was) : changed((String) was);
        put(jdbc, column, id, is);
        Inspection found = server.getBean(Ledger.class).inspect(FARM);
        put(jdbc, column, id, was);
        Row row = rows.computeIfAbsent("stored: " + column, one -> new Row());
        row.places++;
        row.otherwise += found.isWhole() ? 0 : 1;
        row.unseen += found.isWhole() ? 1 : 0;
    }

    private String changed(String was) {
        char[] letters = was.toCharArray();
        int at = random.nextInt(letters.length);
        char other = (char) ('0' + random.nextInt(75));
        letters[at] = other == letters[at] ? '!' : other;
        return new String(letters);
    }

    private static void put(JdbcClient jdbc, String column, String id, Object value) {
        jdbc.sql("update event set " + column + " = ? where event_id = ?")
                .params(value, id)
                .update();
    }

    private int print() {
        System.out.printf("%n| byte changed in | places | unseen by verify | unseen by Verify.java |");
        Arrays.stream(What.values()).forEach(what -> System.out.printf(" %s |", what.word()));
        System.out.printf(" check |%n|---|--:|--:|--:|%s--:|%n", "--:|".repeat(What.values().length));
        boolean good = true;
        for (Map.Entry<String, Row> one : new TreeMap<>(rows).entrySet()) {
            Row row = one.getValue();
            boolean stored = one.getKey().startsWith("stored");
            System.out.printf(
                    Locale.ROOT,
                    "| %s | %,d | %s | %s |",
                    one.getKey(),
                    row.places,
                    stored ? "" : number(row.unseen),
                    stored ? "" : number(row.unseenAlone));
            for (What what : What.values()) {
                System.out.printf(" %s |", row.by.containsKey(what) ? number(row.by.get(what)) : "");
            }
            System.out.printf(" %s |%n", stored ? number(row.otherwise) : "");
            boolean outside = OUTSIDE.containsKey(one.getKey());
            good &= outside
                    || row.unseen == 0 && (row.unseenAlone == 0 || one.getKey().equals(ALONE_OUTSIDE));
        }
        OUTSIDE.forEach((what, why) -> System.out.println("outside: " + what + ": " + why));
        System.out.println(good ? "Nothing that is claimed was changed unseen." : "SOMETHING WAS CHANGED UNSEEN.");
        return good ? 0 : 1;
    }

    private static String number(int number) {
        return String.format(Locale.ROOT, "%,d", number);
    }
}
