import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.URI;
import java.nio.ByteBuffer;
import java.nio.channels.SelectionKey;
import java.nio.channels.Selector;
import java.nio.channels.SocketChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Many look at the board while many text: how long after a text was answered is it on everybody's board? Run from the
 * project's root; see {@code docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench Viewers --viewers 500 --texts 200 --seconds 30
 * </pre>
 */
final class Viewers {

    private static final String USAGE = """
        java -cp projections/target/bench Viewers [options]

          --viewers 500    who look at the board
          --texts 200      texts a second that are offered, whether or not those before were answered
          --seconds 30     for so long, after a warm-up
          --warm 10        seconds of half as many texts before
          --stream page    what they look at: page, wall, or json
          --jar projections/target/duskpeg.jar
          --url            a demo server that runs already, instead of one of its own
        """;

    private static final Map<String, String> DEFAULTS = Map.of(
            "viewers", "500",
            "texts", "200",
            "seconds", "30",
            "warm", "10",
            "stream", "page",
            "jar", "projections/target/duskpeg.jar",
            "url", "");

    /** The demo farm's. */
    private static final int ROWS = 24;

    private static final int PHONES = 8;
    private static final ZoneId ZONE = ZoneId.of("Africa/Johannesburg");

    /** How many flowers are pegged in a row before, so that none is opened that was not pegged. */
    private static final int PEGGED = 999;

    private static final int PATIENCE = 60_000;

    private final Map<String, String> options;
    private final URI url;
    private final long ahead;
    private final LocalDate morning;
    private final AtomicInteger sids = new AtomicInteger();
    private final String run = Long.toString(System.nanoTime(), 36);

    private Viewers(Map<String, String> options, URI url) {
        this.options = options;
        this.url = url;
        ZonedDateTime now = ZonedDateTime.now(ZONE);
        morning = now.toLocalDate().plusDays(1);
        ahead = Duration.between(now, morning.atTime(6, 30).atZone(ZONE)).toSeconds();
    }

    public static void main(String[] arguments) throws Exception {
        Map<String, String> options = new ConcurrentHashMap<>(DEFAULTS);
        for (int i = 0; i < arguments.length; i += 2) {
            String name = arguments[i].replaceFirst("^--", "");
            if (i + 1 == arguments.length || options.put(name, arguments[i + 1]) == null) {
                System.err.println("What is " + arguments[i] + "?\n\n" + USAGE);
                System.exit(2);
            }
        }
        System.out.printf(
                "Viewers, %s%nJava %s, %d CPUs, load average %s%n%n",
                Instant.now().truncatedTo(ChronoUnit.SECONDS),
                Runtime.version(),
                Runtime.getRuntime().availableProcessors(),
                Machine.load());
        boolean good;
        if (!option(options, "url").isEmpty()) {
            good = new Viewers(options, URI.create(option(options, "url"))).look(null);
        } else {
            Path work = Files.createTempDirectory("duskpeg-viewers-");
            Runtime.getRuntime().addShutdownHook(new Thread(() -> {
                Server.destroyAll();
                Machine.delete(work);
            }));
            Path jar = Files.copy(Path.of(option(options, "jar")), work.resolve("duskpeg.jar"));
            Server server = Server.start(jar, work.resolve("data"));
            good = new Viewers(options, URI.create("http://127.0.0.1:" + server.port)).look(server);
            server.complain();
            server.stop();
        }
        System.out.printf("%nLoad average at the end %s%n", Machine.load());
        System.exit(good ? 0 : 1);
    }

    private static String option(Map<String, String> options, String name) {
        return options.getOrDefault(name, "");
    }

    private int number(String name) {
        return Integer.parseInt(option(options, name));
    }

    private boolean look(Server server) throws Exception {
        int rate = number("texts");
        int seconds = number("seconds");
        peg();
        Reference reference = new Reference();
        reference.start();
        Crowd crowd = new Crowd(number("viewers"));
        crowd.start();
        crowd.awaitAll();
        Lane[] lanes = new Lane[ROWS];
        for (int row = 0; row < ROWS; row++) {
            lanes[row] = new Lane(row + 1);
            lanes[row].start();
        }
        offer(lanes, Math.max(1, rate / 2), number("warm"));
        for (Lane lane : lanes) {
            lane.settle();
        }
        double processor = server == null ? 0 : server.processorSeconds();
        long bytes = crowd.bytes.get();
        long from = System.nanoTime();
        offer(lanes, rate, seconds);
        long until = System.nanoTime();
        double processorShare = server == null ? 0 : (server.processorSeconds() - processor) / ((until - from) / 1e9);
        long received = crowd.bytes.get() - bytes;
        int waiting = 0;
        List<Sent> sent = new ArrayList<>();
        for (Lane lane : lanes) {
            waiting += lane.finish();
            lane.sent.stream().filter(text -> text.due >= from).forEach(sent::add);
        }
        Thread.sleep(8_000);
        crowd.stop();
        reference.stop();
        return report(sent, waiting, crowd, reference, (until - from) / 1e9, processorShare, received, server != null);
    }

    private boolean report(
            List<Sent> sent,
            int waiting,
            Crowd crowd,
            Reference reference,
            double seconds,
            double processorShare,
            long received,
            boolean ours) {
        List<Sent> taken = sent.stream().filter(text -> text.answered > 0).toList();
        List<Double> answers =
                taken.stream().map(text -> (text.answered - text.due) / 1e6).toList();
        long inTime = taken.stream()
                .filter(text -> text.answered - text.due < 1_000_000_000L)
                .count();
        List<Double> pushes = new ArrayList<>();
        long missed = 0;
        for (Sent text : taken) {
            long version = reference.versionOf(text.row, text.number);
            for (Viewer viewer : crowd.viewers) {
                long seen = version < 0 ? -1 : viewer.when(version);
                if (seen < 0) {
                    missed++;
                } else {
                    pushes.add(Math.max(0, (seen - text.answered) / 1e6));
                }
            }
        }
        double boards = crowd.viewers.stream()
                .mapToInt(viewer -> viewer.count)
                .average()
                .orElse(0);
        System.out.printf(
                Locale.ROOT,
                "%d viewers of the %s, %d left early; %.0f boards each, %.1f MB/s to all%n",
                crowd.viewers.size(),
                option(options, "stream"),
                crowd.gone.get(),
                boards,
                received / 1e6 / seconds);
        System.out.printf(
                Locale.ROOT,
                "texts offered %d/s for %.0f s; answered %d (%.1f/s), %d of them within 1 s of when they were due;"
                        + " %d failed, %d not sent for want of an answer before%n",
                number("texts"),
                seconds,
                taken.size(),
                taken.size() / seconds,
                inTime,
                sent.size() - taken.size(),
                waiting);
        if (ours) {
            System.out.printf(Locale.ROOT, "the server took %.2f processors%n", processorShare);
        }
        if (!answers.isEmpty()) {
            print("due to answered", answers);
        }
        if (!pushes.isEmpty()) {
            print("answered to on the board", pushes);
        }
        System.out.printf("never on somebody's board: %d%n", missed);
        return !taken.isEmpty() && sent.size() == taken.size() && missed == 0 && crowd.gone.get() == 0;
    }

    private static void print(String what, List<Double> millis) {
        double[] sorted =
                millis.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        System.out.printf(
                Locale.ROOT,
                "%s, ms: p50 %.0f, p99 %.0f, slowest %.0f%n",
                what,
                sorted[sorted.length / 2],
                sorted[(int) (0.99 * (sorted.length - 1))],
                sorted[sorted.length - 1]);
    }

    /** Every row is pegged full on the evening before. */
    private void peg() throws IOException {
        try (Wire wire = new Wire(url.getPort(), PATIENCE)) {
            for (int row = 1; row <= ROWS; row++) {
                String now = morning.minusDays(1)
                        .atTime(18, 0)
                        .atZone(ZONE)
                        .toInstant()
                        .toString();
                String answer = text(wire, row, "1 " + row + " " + PEGGED, now);
                if (!answer.contains("Row " + row)) {
                    throw new IOException("was answered " + answer);
                }
            }
        }
    }

    private String text(Wire wire, int row, String words, String now) throws IOException {
        return wire.post(
                        "/field/text",
                        "From=%2B1555555010" + (1 + row % PHONES) + "&To=%2B15555550100&Body=" + Wire.encode(words)
                                + "&MessageSid=SM" + run + sids.incrementAndGet(),
                        now)
                .text();
    }

    /** Texts come when they come: the next one does not wait for the answer to the one before, unless it is of its row. */
    private static void offer(Lane[] lanes, int rate, int seconds) throws InterruptedException {
        long start = System.nanoTime();
        long all = (long) rate * seconds;
        for (long text = 0; text < all; text++) {
            long due = start + text * 1_000_000_000L / rate;
            long wait = due - System.nanoTime();
            if (wait > 0) {
                TimeUnit.NANOSECONDS.sleep(wait);
            }
            lanes[(int) (text % lanes.length)].due.add(due);
        }
    }

    /** A text: the so-manieth of its row. */
    private static final class Sent {

        final int row;
        final int number;
        final long due;
        long answered;

        Sent(int row, int number, long due) {
            this.row = row;
            this.number = number;
            this.due = due;
        }
    }

    /** The texts of one row, one after the other, so that the row's count says which are on a board. */
    private final class Lane {

        private static final long END = Long.MIN_VALUE;

        final LinkedBlockingQueue<Long> due = new LinkedBlockingQueue<>();
        final List<Sent> sent = Collections.synchronizedList(new ArrayList<>());
        private final int row;
        private final Thread thread = new Thread(this::run);
        private volatile boolean busy;
        private volatile boolean ending;
        private int number;

        Lane(int row) {
            this.row = row;
        }

        void start() {
            thread.setDaemon(true);
            thread.start();
        }

        private void run() {
            try (Wire wire = new Wire(url.getPort(), PATIENCE)) {
                for (long next = due.take(); next != END && !ending; next = due.take()) {
                    busy = true;
                    Sent text = new Sent(row, number + 1, next);
                    String now = Instant.now().plusSeconds(ahead).toString();
                    try {
                        if (text(wire, row, "2 " + row + " 1", now).contains("<Message>Row")) {
                            text.answered = System.nanoTime();
                            number++;
                        }
                    } catch (IOException e) {
                        System.out.println("a text failed: " + e);
                    }
                    sent.add(text);
                    busy = false;
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }

        void settle() throws InterruptedException {
            while (busy || !due.isEmpty()) {
                Thread.sleep(20);
            }
        }

        /** Ends it, and says how many were never sent. */
        int finish() throws InterruptedException {
            int waiting = due.size();
            ending = true;
            due.add(END);
            thread.join(PATIENCE);
            return waiting;
        }
    }

    /** One more viewer, of the numbers: it tells which version of the board a text is on. */
    private final class Reference {

        private static final Pattern ROW = Pattern.compile("\"row\":\"([0-9]+)\"[^{}]*?\"opened\":([0-9]+)");

        private final List<long[]> seen = Collections.synchronizedList(new ArrayList<>());
        private Socket socket;

        void start() throws IOException {
            socket = new Socket(InetAddress.getLoopbackAddress(), url.getPort());
            socket.getOutputStream().write(request("/api/board/stream").getBytes(StandardCharsets.US_ASCII));
            BufferedReader in =
                    new BufferedReader(new InputStreamReader(socket.getInputStream(), StandardCharsets.UTF_8));
            Thread thread = new Thread(() -> read(in));
            thread.setDaemon(true);
            thread.start();
        }

        private void read(BufferedReader in) {
            long version = -1;
            try {
                for (String line = in.readLine(); line != null; line = in.readLine()) {
                    if (line.startsWith("id:")) {
                        version = Long.parseLong(line.substring(3).strip());
                    } else if (line.startsWith("data:")) {
                        Matcher row = ROW.matcher(line);
                        while (row.find()) {
                            seen.add(new long[] {Long.parseLong(row.group(1)), Long.parseLong(row.group(2)), version});
                        }
                    }
                }
            } catch (IOException e) {
                // It was closed.
            }
        }

        void stop() throws IOException {
            socket.close();
        }

        /** The first version that had so many in that row; -1 where none had. */
        long versionOf(int row, int number) {
            synchronized (seen) {
                return seen.stream()
                        .filter(one -> one[0] == row && one[1] >= number)
                        .mapToLong(one -> one[2])
                        .min()
                        .orElse(-1);
            }
        }
    }

    private String request(String path) {
        String view = path.startsWith("/api") || !option(options, "stream").equals("wall") ? "" : "&view=wall";
        // HTTP/1.0, so that the stream is not cut into chunks.
        return "GET " + path + "?morning=" + morning + view
                + " HTTP/1.0\r\nHost: 127.0.0.1\r\nAccept: text/event-stream" + "\r\nCookie: duskpeg-ahead=" + ahead
                + "\r\n\r\n";
    }

    /** Everybody who looks on, read by one thread. */
    private final class Crowd {

        final List<Viewer> viewers = new ArrayList<>();
        final AtomicInteger gone = new AtomicInteger();
        final AtomicLong bytes = new AtomicLong();
        private final int size;
        private final Selector selector;
        private final Thread thread = new Thread(this::read);
        private volatile boolean stopping;

        Crowd(int size) throws IOException {
            this.size = size;
            selector = Selector.open();
        }

        void start() throws IOException {
            byte[] request = request(option(options, "stream").equals("json") ? "/api/board/stream" : "/board/stream")
                    .getBytes(StandardCharsets.US_ASCII);
            for (int i = 0; i < size; i++) {
                SocketChannel channel =
                        SocketChannel.open(new InetSocketAddress(InetAddress.getLoopbackAddress(), url.getPort()));
                ByteBuffer out = ByteBuffer.wrap(request);
                while (out.hasRemaining()) {
                    channel.write(out);
                }
                channel.configureBlocking(false);
                Viewer viewer = new Viewer();
                viewers.add(viewer);
                channel.register(selector, SelectionKey.OP_READ, viewer);
            }
            thread.setDaemon(true);
            thread.start();
        }

        void awaitAll() throws Exception {
            long start = System.nanoTime();
            while (viewers.stream().anyMatch(viewer -> viewer.count == 0)) {
                if (Machine.seconds(start) > 120) {
                    throw new IOException("not every viewer was sent a board in 120 s");
                }
                Thread.sleep(50);
            }
        }

        void stop() throws InterruptedException {
            stopping = true;
            selector.wakeup();
            thread.join(10_000);
        }

        private void read() {
            ByteBuffer buffer = ByteBuffer.allocateDirect(1 << 18);
            byte[] copy = new byte[buffer.capacity()];
            try {
                while (!stopping) {
                    selector.select(500);
                    for (SelectionKey key : selector.selectedKeys()) {
                        read(key, buffer, copy);
                    }
                    selector.selectedKeys().clear();
                }
            } catch (IOException e) {
                System.out.println("the viewers failed: " + e);
                gone.set(size);
            }
        }

        private void read(SelectionKey key, ByteBuffer buffer, byte[] copy) {
            try {
                buffer.clear();
                int length = ((SocketChannel) key.channel()).read(buffer);
                if (length < 0) {
                    throw new IOException("closed");
                }
                bytes.addAndGet(length);
                buffer.flip();
                buffer.get(copy, 0, length);
                ((Viewer) key.attachment()).heard(copy, length, System.nanoTime());
            } catch (IOException e) {
                key.cancel();
                gone.incrementAndGet();
            }
        }
    }

    /** One who looks on: which version was whole on her board, and when. */
    private static final class Viewer {

        private final byte[] line = new byte[32];
        private int length;
        private long pending = -1;
        private long[] versions = new long[256];
        private long[] times = new long[256];
        volatile int count;

        void heard(byte[] bytes, int size, long now) {
            for (int i = 0; i < size; i++) {
                byte next = bytes[i];
                if (next != '\n') {
                    if (length < line.length) {
                        line[length] = next;
                    }
                    length++;
                    continue;
                }
                if (length == 0 && pending >= 0) {
                    keep(now);
                } else if (length > 3 && length <= line.length && line[0] == 'i' && line[1] == 'd' && line[2] == ':') {
                    pending = Long.parseLong(new String(line, 3, length - 3, StandardCharsets.US_ASCII).strip());
                }
                length = 0;
            }
        }

        private void keep(long now) {
            if (count == versions.length) {
                versions = Arrays.copyOf(versions, 2 * count);
                times = Arrays.copyOf(times, 2 * count);
            }
            versions[count] = pending;
            times[count] = now;
            pending = -1;
            count = count + 1;
        }

        /** When she first had that version or a later one; -1 where she never had. */
        long when(long version) {
            int low = 0;
            int high = count;
            while (low < high) {
                int middle = (low + high) >>> 1;
                if (versions[middle] >= version) {
                    high = middle;
                } else {
                    low = middle + 1;
                }
            }
            return low == count ? -1 : times[low];
        }
    }
}
