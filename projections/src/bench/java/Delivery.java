import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
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
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Plays recorded mornings twice: to one server in order, and to another over a bad network, which delays, reorders,
 * drops, repeats and delivers the same text twice at once. What both farms then show must be the same. What the network
 * may do and what is compared is written down in {@code docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench:projections/target/duskpeg.jar Delivery --rounds 10 --seed 1
 * </pre>
 */
final class Delivery {

    private static final String USAGE = """
        java -cp projections/target/bench:projections/target/duskpeg.jar Delivery [options]

          --rounds 4    mornings, a network of its own for each
          --seed 1
          --jar projections/target/duskpeg.jar
          --orderly http://…  --jumbled http://…   two running, empty demo servers instead of two of its own
        """;

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final Path DEMO_FARM = Path.of("projections/src/main/resources/demo-farm.json");
    private static final LocalDate FIRST = LocalDate.of(2027, 1, 10);
    private static final int AT_ONCE = 8;
    private static final int ROWS = 24;
    private static final int STRIP = 50;

    private final Map<String, String> options;
    private final long seed;
    private final int rounds;
    private final Map<String, String> answers = new ConcurrentHashMap<>();
    private final AtomicInteger differentAnswers = new AtomicInteger();
    private final AtomicInteger unanswered = new AtomicInteger();

    private Delivery(Map<String, String> options) {
        this.options = options;
        this.seed = Long.parseLong(options.get("--seed"));
        this.rounds = Integer.parseInt(options.get("--rounds"));
    }

    public static void main(String[] arguments) throws Exception {
        Map<String, String> options = new HashMap<>(Map.of(
                "--rounds", "4",
                "--seed", "1",
                "--jar", "projections/target/duskpeg.jar",
                "--orderly", "",
                "--jumbled", ""));
        for (int i = 0; i < arguments.length; i += 2) {
            if (!options.containsKey(arguments[i]) || i + 1 == arguments.length) {
                System.err.println("Not understood: " + arguments[i] + "\n\n" + USAGE);
                System.exit(2);
            }
            options.put(arguments[i], arguments[i + 1]);
        }
        Path work = Files.createTempDirectory("duskpeg-delivery-");
        AtomicBoolean keep = new AtomicBoolean();
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            Server.destroyAll();
            if (!keep.get()) {
                Machine.delete(work);
            }
        }));
        boolean good = new Delivery(options).run(work);
        keep.set(!good);
        System.out.println(good ? "No differences." : "DIFFERENT. Data and logs are kept in " + work);
        System.exit(good ? 0 : 1);
    }

    private boolean run(Path work) throws Exception {
        URI orderly;
        URI jumbled;
        if (options.get("--orderly").isEmpty()) {
            Path jar = Files.copy(Path.of(options.get("--jar")), work.resolve("duskpeg.jar"));
            String farm = "--duskpeg.farm-file=file:" + farmFile(work);
            orderly = address(Server.start(jar, work.resolve("orderly"), farm));
            jumbled = address(Server.start(jar, work.resolve("jumbled"), farm));
        } else {
            orderly = URI.create(options.get("--orderly"));
            jumbled = URI.create(options.get("--jumbled"));
        }
        JsonNode farm = JSON.readTree(Server.get(orderly, "/api/farm"));
        ZoneId zone = ZoneId.of(farm.get("zone").asText());
        List<RecordedMorning.Worker> crew = crew(farm);
        System.out.println(
                "round  network  texts  delivered  again  at once  unheard answers  dropped  reordered  fruit  different");
        boolean good = true;
        for (int round = 0; round < rounds; round++) {
            LocalDate morning = FIRST.plusDays(60L * round);
            Random random = HostileTexts.random(seed, round);
            List<RecordedMorning.Text> texts =
                    RecordedMorning.texts(random, "d" + seed + "-" + round, morning, zone, crew);
            Network network = new Network(
                    random,
                    texts,
                    round % 2 == 1,
                    morning.atTime(9, 55).atZone(zone).toInstant());
            playInOrder(orderly, texts);
            answers.clear();
            play(jumbled, texts, network.attempts());
            List<String> differences = compare(orderly, jumbled, morning, network.isSlow());
            System.out.printf(
                    Locale.ROOT,
                    "%5d  %-7s %6d %10d %6d %8d %16d %8d %10d %6d %10d%n",
                    round,
                    network.isSlow() ? "slow" : "prompt",
                    texts.size(),
                    network.attempts().size(),
                    network.again,
                    network.atOnce,
                    network.answerLost,
                    network.dropped,
                    network.reordered(),
                    fruit(orderly).size(),
                    differences.size());
            differences.stream().limit(10).forEach(System.out::println);
            good &= differences.isEmpty();
        }
        System.out.printf(
                "%n%d answers missing or wrong, %d texts answered differently when they came again%n",
                unanswered.get(), differentAnswers.get());
        return good && unanswered.get() == 0 && differentAnswers.get() == 0;
    }

    private static URI address(Server server) {
        return URI.create("http://127.0.0.1:" + server.port);
    }

    /** The demo farm with strips enough for every round. */
    private Path farmFile(Path work) throws IOException {
        JsonNode farm = JSON.readTree(DEMO_FARM.toFile());
        int next = 10_000;
        for (JsonNode worker : farm.get("workers")) {
            ArrayNode strips = ((ObjectNode) worker).putArray("strips");
            for (int strip = 0; strip <= rounds; strip++) {
                strips.addObject().put("first", "%06d".formatted(next)).put("last", "%06d".formatted(next + STRIP - 1));
                next += STRIP;
            }
        }
        Path file = work.resolve("farm.json");
        JSON.writeValue(file.toFile(), farm);
        return file;
    }

    private static List<RecordedMorning.Worker> crew(JsonNode farm) {
        List<RecordedMorning.Worker> crew = new ArrayList<>();
        for (JsonNode worker : farm.get("workers")) {
            List<Integer> ties = new ArrayList<>();
            for (JsonNode strip : worker.get("strips")) {
                for (int tie = strip.get("first").asInt();
                        tie <= strip.get("last").asInt();
                        tie++) {
                    ties.add(tie);
                }
            }
            crew.add(new RecordedMorning.Worker(worker.get("phone").asText(), ties));
        }
        return crew;
    }

    // ---------------------------------------------------------------- the network

    /** One delivery of a text. */
    private record Attempt(int text, Instant at, boolean answerLost, boolean first) {}

    /** What becomes of the texts on their way. */
    private static final class Network {

        private final List<RecordedMorning.Text> texts;
        private final boolean slow;
        private final List<Attempt> attempts = new ArrayList<>();
        private final Instant[] heard;
        private int again;
        private int atOnce;
        private int answerLost;
        private int dropped;

        /**
         * @param slow whether texts may come as late as they can still be understood; otherwise what is sent well
         *     before the cut-off comes before it
         * @param cutOff a little before the cut-off
         */
        Network(Random random, List<RecordedMorning.Text> texts, boolean slow, Instant cutOff) {
            this.texts = texts;
            this.slow = slow;
            this.heard = new Instant[texts.size()];
            for (int index = 0; index < texts.size(); index++) {
                RecordedMorning.Text text = texts.get(index);
                Instant possible = text.needs().stream()
                        .map(need -> heard[need].plusSeconds(1))
                        .max(Comparator.naturalOrder())
                        .filter(told -> told.isAfter(text.sent()))
                        .orElse(text.sent());
                Instant latest = slow || text.sent().isAfter(cutOff) ? text.latest() : earlier(text.latest(), cutOff);
                Duration most = Duration.between(possible, latest);
                Instant at = possible.plus(delay(random, most));
                if (random.nextInt(8) == 0) {
                    dropped++;
                    at = at.plus(delay(random, Duration.between(at, latest)));
                }
                if (random.nextInt(8) == 0) {
                    answerLost++;
                    attempts.add(new Attempt(index, at, true, false));
                    at = at.plus(delay(random, Duration.between(at, latest)));
                }
                heard[index] = at;
                attempts.add(new Attempt(index, at, false, true));
                if (random.nextInt(5) == 0) {
                    atOnce++;
                    attempts.add(new Attempt(index, at, false, false));
                }
                for (int more = random.nextInt(8) - 5; more > 0; more--) {
                    again++;
                    attempts.add(new Attempt(index, at.plusSeconds(random.nextInt(200_000)), false, false));
                }
            }
            attempts.sort(Comparator.comparing(Attempt::at).thenComparing(attempt -> !attempt.first()));
        }

        private static Instant earlier(Instant one, Instant other) {
            return one.isBefore(other) ? one : other;
        }

        private Duration delay(Random random, Duration most) {
            long seconds = switch (random.nextInt(10)) {
                case 0, 1, 2, 3 -> random.nextInt(4);
                case 4, 5, 6 -> random.nextInt(120);
                case 7, 8 -> random.nextInt(2_400);
                default -> random.nextInt(slow ? 40_000 : 4_000);
            };
            return Duration.ofSeconds(Math.max(0, Math.min(seconds, most.toSeconds())));
        }

        List<Attempt> attempts() {
            return attempts;
        }

        boolean isSlow() {
            return slow;
        }

        /** How many texts were heard after one that was sent later. */
        int reordered() {
            int reordered = 0;
            for (int i = 0; i < heard.length; i++) {
                boolean overtaken = false;
                for (int j = 0; j < heard.length && !overtaken; j++) {
                    overtaken = texts.get(j).sent().isAfter(texts.get(i).sent()) && heard[j].isBefore(heard[i]);
                }
                reordered += overtaken ? 1 : 0;
            }
            return reordered;
        }
    }

    private static byte[] request(RecordedMorning.Text text, Instant now) {
        return Wire.form(
                "/field/text",
                "MessageSid=" + text.sid() + "&From=" + Wire.encode(text.phone()) + "&To=%2B15555550100&Body="
                        + Wire.encode(text.words()),
                now.toString());
    }

    private void playInOrder(URI server, List<RecordedMorning.Text> texts) throws IOException {
        List<RecordedMorning.Text> inOrder = new ArrayList<>(texts);
        inOrder.sort(Comparator.comparing(RecordedMorning.Text::sent));
        try (Wire wire = new Wire(server.getPort(), 60_000)) {
            for (RecordedMorning.Text text : inOrder) {
                answered(text, wire.send(request(text, text.sent()), false));
            }
        }
    }

    /** Plays deliveries by time, up to eight at once where none of them had to wait for the answer to another. */
    private void play(URI server, List<RecordedMorning.Text> texts, List<Attempt> attempts) throws Exception {
        ExecutorService lines = Executors.newFixedThreadPool(AT_ONCE);
        List<Wire> wires = new ArrayList<>();
        for (int line = 0; line < AT_ONCE; line++) {
            wires.add(new Wire(server.getPort(), 60_000));
        }
        try {
            for (int next = 0; next < attempts.size(); ) {
                List<Future<?>> sent = new ArrayList<>();
                Set<Integer> unsettled = new HashSet<>();
                while (next < attempts.size() && sent.size() < AT_ONCE) {
                    Attempt attempt = attempts.get(next);
                    RecordedMorning.Text text = texts.get(attempt.text());
                    if (text.needs().stream().anyMatch(unsettled::contains)) {
                        break;
                    }
                    Wire wire = wires.get(sent.size());
                    sent.add(lines.submit(() -> {
                        deliver(wire, text, attempt);
                        return null;
                    }));
                    unsettled.add(attempt.text());
                    next++;
                }
                for (Future<?> one : sent) {
                    one.get();
                }
            }
        } finally {
            lines.shutdown();
            wires.forEach(Wire::close);
        }
    }

    private void deliver(Wire wire, RecordedMorning.Text text, Attempt attempt) throws IOException {
        byte[] request = request(text, attempt.at());
        if (attempt.answerLost()) {
            wire.sendAndLeave(request);
        } else {
            answered(text, wire.send(request, false));
        }
    }

    private void answered(RecordedMorning.Text text, Wire.Answer answer) {
        boolean good = answer.status() == 200
                && answer.text().contains("<Message>")
                && !answer.text().contains("NOT NOTED");
        if (!good) {
            unanswered.incrementAndGet();
            System.out.println(text.words() + " was answered " + answer.status() + " " + answer.text());
        }
        String first = answers.putIfAbsent(text.sid(), answer.text());
        if (first != null && !first.equals(answer.text())) {
            differentAnswers.incrementAndGet();
        }
    }

    // ---------------------------------------------------------------- comparing

    private List<String> compare(URI orderly, URI jumbled, LocalDate morning, boolean slow) throws Exception {
        long started = System.nanoTime();
        List<String> differences;
        do {
            Thread.sleep(300);
            Map<String, JsonNode> one = state(orderly, morning, slow);
            Map<String, JsonNode> other = state(jumbled, morning, slow);
            differences = new ArrayList<>();
            Set<String> names = new HashSet<>(one.keySet());
            names.addAll(other.keySet());
            for (String name : names) {
                if (!one.containsKey(name) || !one.get(name).equals(other.get(name))) {
                    differences.add(difference(name, one.get(name), other.get(name)));
                }
            }
        } while (!differences.isEmpty() && Machine.seconds(started) < 20);
        return differences;
    }

    /** Which fields differ, and how. */
    private static String difference(String name, JsonNode one, JsonNode other) {
        StringBuilder said = new StringBuilder("  " + name);
        if (one == null || other == null) {
            return said.append(one == null ? " is not there in order" : " is not there jumbled")
                    .toString();
        }
        one.fieldNames().forEachRemaining(field -> {
            JsonNode mine = one.get(field);
            JsonNode its = other.get(field);
            if (!mine.equals(its)) {
                said.append("\n    ")
                        .append(field)
                        .append(" in order ")
                        .append(only(mine, its))
                        .append(", jumbled ")
                        .append(its == null ? "absent" : only(its, mine));
            }
        });
        return said.toString();
    }

    /** What is in a list and not in the other; all of what is no list. */
    private static String only(JsonNode list, JsonNode other) {
        List<String> own = new ArrayList<>();
        for (JsonNode one : list) {
            own.add(one.asText());
        }
        if (other != null) {
            other.forEach(one -> own.remove(one.asText()));
        }
        return list.isArray() ? own.toString() : list.toString();
    }

    /** The ties that were ever issued, and those around them. */
    private static List<Integer> fruit(URI server) throws Exception {
        JsonNode farm = JSON.readTree(Server.get(server, "/api/farm"));
        List<Integer> ties = new ArrayList<>();
        for (JsonNode worker : farm.get("workers")) {
            for (JsonNode strip : worker.get("strips")) {
                int next = strip.has("next")
                        ? strip.get("next").asInt()
                        : strip.get("last").asInt() + 1;
                for (int tie = strip.get("first").asInt(); tie < next; tie++) {
                    ties.add(tie);
                }
            }
        }
        return ties;
    }

    /** All that both farms must agree on. */
    private Map<String, JsonNode> state(URI server, LocalDate morning, boolean slow) throws Exception {
        Map<String, JsonNode> state = new TreeMap<>();
        for (JsonNode worker : JSON.readTree(Server.get(server, "/api/farm")).get("workers")) {
            state.put("strips of " + worker.get("worker").asText(), worker);
        }
        for (int day = -1; day <= 1; day++) {
            JsonNode board = JSON.readTree(Server.get(server, "/api/board?morning=" + morning.plusDays(day)));
            for (JsonNode row : board.get("rows")) {
                questions((ObjectNode) row, slow);
                state.put(
                        "board " + morning.plusDays(day) + " row "
                                + row.get("row").asText(),
                        row);
            }
        }
        for (int tie : fruit(server)) {
            String path = "/api/fruit/%06d".formatted(tie);
            JsonNode fruit = JSON.readTree(Server.look(server, path));
            if (fruit.has("acts")) {
                history((ObjectNode) fruit);
                state.put(path, fruit);
            }
        }
        return state;
    }

    /**
     * Questions have no order. Late is what is heard late, where a text says no hour: so its minute is left out, and
     * over a slow network the question too.
     */
    private static void questions(ObjectNode owner, boolean slow) {
        List<String> questions = new ArrayList<>();
        for (JsonNode question : owner.get("questions")) {
            if (!question.get("kind").asText().equals("after-limit")) {
                questions.add(question.toString());
            } else if (!slow) {
                questions.add(question.toString().replaceAll(" at [0-9]{2}:[0-9]{2},", ""));
            }
        }
        questions.sort(Comparator.naturalOrder());
        ArrayNode sorted = owner.putArray("questions");
        questions.forEach(sorted::add);
    }

    /** A history without what was heard when, in no order. */
    private static void history(ObjectNode fruit) {
        String all = fruit.get("questions").toString();
        questions(fruit, true);
        if (all.contains("tie-used-twice")) {
            // On which of them it is, nobody knows: the one that was heard last is shown.
            fruit.remove(List.of("row", "morning", "cultivar", "species"));
        }
        if (all.contains("culled-and-harvested")) {
            fruit.remove("state");
        }
        for (String list : List.of("acts", "takenBack")) {
            List<String> acts = new ArrayList<>();
            for (JsonNode act : fruit.get(list)) {
                if (act.get("at").equals(act.get("heard"))) {
                    ((ObjectNode) act).remove("at");
                }
                ((ObjectNode) act).remove("heard");
                acts.add(act.toString());
            }
            acts.sort(Comparator.naturalOrder());
            ArrayNode sorted = fruit.putArray(list);
            acts.forEach(sorted::add);
        }
    }
}
