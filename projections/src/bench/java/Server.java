import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A server process of our own; one that is still there when we end is destroyed. */
final class Server {

    private static final ConcurrentLinkedQueue<Process> RUNNING = new ConcurrentLinkedQueue<>();
    private static final Pattern READY = Pattern.compile("Duskpeg is ready: http://localhost:([0-9]+)/");
    private static final AtomicInteger LOGS = new AtomicInteger();
    private static final HttpClient HTTP = HttpClient.newBuilder()
            .version(HttpClient.Version.HTTP_1_1)
            .connectTimeout(Duration.ofSeconds(10))
            .build();

    final Process process;
    private final Path log;
    final int port;
    final double secondsToReady;

    private Server(Process process, Path log, int port, double secondsToReady) {
        this.process = process;
        this.log = log;
        this.port = port;
        this.secondsToReady = secondsToReady;
    }

    /**
     * Starts a demo farm on a port of its own.
     *
     * @param data where its database is kept
     * @param more further settings, which come last and so are stronger
     */
    static Server start(Path jar, Path data, String... more) throws Exception {
        return start(jar, data, List.of(), more);
    }

    /**
     * The same.
     *
     * @param jvm what the JVM is told
     */
    static Server start(Path jar, Path data, List<String> jvm, String... more) throws Exception {
        Path log = data.resolveSibling("server-" + LOGS.incrementAndGet() + ".log");
        long started = System.nanoTime();
        List<String> settings = new ArrayList<>(List.of(
                "--server.port=0",
                "--server.address=127.0.0.1",
                "--duskpeg.demo=true",
                "--duskpeg.demo-season=false",
                "--duskpeg.data-dir=" + data));
        for (String stronger : more) {
            settings.removeIf(one -> one.startsWith(stronger.substring(0, stronger.indexOf('=') + 1)));
            settings.add(stronger);
        }
        Process process = run(log, jvm, jar, settings);
        while (Machine.seconds(started) < 120) {
            Matcher ready = READY.matcher(Files.readString(log));
            if (ready.find()) {
                return new Server(process, log, Integer.parseInt(ready.group(1)), Machine.seconds(started));
            }
            if (!process.isAlive()) {
                throw new IOException("the server ended before it was ready:\n" + Files.readString(log));
            }
            Thread.sleep(10);
        }
        process.destroyForcibly();
        throw new IOException("the server was not ready in 120 s:\n" + Files.readString(log));
    }

    static Process rebuild(Path jar, Path data, String... more) throws IOException {
        Path log = data.resolveSibling("rebuild.log");
        List<String> settings =
                new ArrayList<>(List.of("rebuild", "--duskpeg.demo=true", "--duskpeg.data-dir=" + data));
        settings.addAll(List.of(more));
        return run(log, List.of(), jar, settings);
    }

    private static Process run(Path log, List<String> jvm, Path jar, List<String> arguments) throws IOException {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(jvm);
        command.addAll(List.of("-jar", jar.toString()));
        command.addAll(arguments);
        ProcessBuilder builder =
                new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(log.toFile());
        builder.environment().remove("TWILIO_AUTH_TOKEN");
        Process process = builder.start();
        RUNNING.add(process);
        return process;
    }

    static void destroyAll() {
        RUNNING.forEach(Process::destroyForcibly);
    }

    /** As kill -9. */
    void kill() throws InterruptedException {
        process.destroyForcibly();
        process.waitFor();
    }

    void stop() throws InterruptedException {
        process.destroy();
        if (!process.waitFor(30, TimeUnit.SECONDS)) {
            System.out.println("the server did not stop in 30 s and was killed");
            kill();
        }
    }

    /**
     * Gets a page.
     *
     * @throws IOException if it is not answered with 200
     */
    String get(String path) throws Exception {
        return get(URI.create("http://127.0.0.1:" + port), path);
    }

    /** As {@link #get(String)}, of any server. */
    static String get(URI server, String path) throws Exception {
        HttpResponse<String> response = response(server, path);
        if (response.statusCode() != 200) {
            throw new IOException(path + " was answered " + response.statusCode() + ": " + response.body());
        }
        return response.body();
    }

    /** What is at a path, or what is said where there is nothing. */
    static String look(URI server, String path) throws Exception {
        return response(server, path).body();
    }

    private static HttpResponse<String> response(URI server, String path) throws Exception {
        HttpRequest request = HttpRequest.newBuilder(server.resolve(path))
                .header("X-Duskpeg-Now", "2026-01-01T12:00:00Z") // so that two readings can be compared
                .timeout(Duration.ofSeconds(60))
                .build();
        return HTTP.send(request, BodyHandlers.ofString());
    }

    /** Processor seconds it has taken so far. */
    double processorSeconds() {
        return process.info().totalCpuDuration().map(Duration::toMillis).orElse(0L) / 1e3;
    }

    /** Prints what its log has beyond the few lines of every start. */
    void complain() throws IOException {
        List<String> lines = Files.readAllLines(log).stream()
                .filter(line -> line.matches("\\S+ +(WARN|ERROR) .*") && !line.contains("AnnotationTypeMapping"))
                .toList();
        if (!lines.isEmpty()) {
            System.out.println(lines.size() + " warnings and errors in the server's log, the first of them:");
            lines.stream().limit(5).forEach(line -> System.out.println("  " + line));
        }
    }
}
