import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Asks the assembled server whom to move on a big morning, and prints how long the answer takes. Each question is of
 * another minute, so nothing that was reckoned before helps. See {@code docs/benchmarks.md}.
 *
 * <pre>
 * java -cp projections/target/bench:projections/target/duskpeg.jar Moving [rows] [people]
 * </pre>
 */
final class Moving {

    private static final int FLOWERS = 12;
    private static final int QUESTIONS = 20;
    private static final int WARM_UP = 5;

    private final HttpClient http = HttpClient.newHttpClient();
    private final URI server;
    private int sids;

    private Moving(URI server) {
        this.server = server;
    }

    public static void main(String[] arguments) throws Exception {
        int rows = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 200;
        int people = arguments.length > 1 ? Integer.parseInt(arguments[1]) : 60;
        Path work = Files.createTempDirectory("duskpeg-moving-");
        Path jar = Path.of("projections/target/duskpeg.jar");
        try {
            Path farm = Files.writeString(work.resolve("farm.json"), farm(rows, people));
            Server running = Server.start(jar, work.resolve("data"), "--duskpeg.farm-file=" + farm.toUri());
            new Moving(URI.create("http://127.0.0.1:" + running.port)).run(rows, people);
            running.stop();
        } finally {
            Server.destroyAll();
            Machine.delete(work);
        }
    }

    /** The range that is kept for fiction has a hundred numbers; nobody else is asked for. */
    private static String phone(int person) {
        if (person > 99) {
            throw new IllegalArgumentException("at most 100 people");
        }
        return "+1555555" + String.format(Locale.ROOT, "%04d", 100 + person);
    }

    private static String farm(int rows, int people) {
        return """
                {"farm": "big", "zone": "Africa/Johannesburg", "target": "09:00", "limit": "10:00", "tieWidth": 6,
                 "plantings": [{"name": "Field", "cultivar": "Greycap Nine", "species": "MAXIMA", "firstRow": 1,
                   "lastRow": %d, "plantsPerRow": 40}],
                 "workers": [%s]}
                """.formatted(
                        rows,
                        IntStream.range(0, people)
                                .mapToObj(person -> """
                                        {"worker": "w%d", "name": "Worker %d", "phone": "%s", "language": "en",
                                         "role": "CREW", "strips": []}""".formatted(person, person, phone(person)))
                                .collect(Collectors.joining(",\n")));
    }

    private void run(int rows, int people) throws Exception {
        for (int row = 1; row <= rows; row++) {
            text(row % people, "1 " + row + " " + FLOWERS, "2026-11-25T17:00:00+02:00");
        }
        // Some are slow, some fast; each does her rows one after the other, and reports every quarter of an hour.
        for (int quarter = 0; quarter < 6; quarter++) {
            for (int person = 0; person < people; person++) {
                int row = 1 + person + people * (quarter / 3);
                if (row <= rows) {
                    text(person, "2345 " + row + " " + (2 + person % 3), at(5 * 60 + 45 + 15 * quarter));
                }
            }
        }
        double[] millis = new double[QUESTIONS];
        String answer = "";
        for (int question = -WARM_UP; question < QUESTIONS; question++) {
            long started = System.nanoTime();
            answer = get("/api/moves?morning=2026-11-26", at(7 * 60 + 10 + question));
            if (question >= 0) {
                millis[question] = (System.nanoTime() - started) / 1e6;
            }
        }
        Arrays.sort(millis);
        System.out.printf(
                Locale.ROOT,
                "%d rows, %d people, %d questions: median %.0f ms, slowest %.0f ms%n%s%n",
                rows,
                people,
                QUESTIONS,
                millis[QUESTIONS / 2],
                millis[QUESTIONS - 1],
                answer);
    }

    private static String at(int minute) {
        return String.format(Locale.ROOT, "2026-11-26T%02d:%02d:00+02:00", minute / 60, minute % 60);
    }

    private void text(int person, String words, String now) throws Exception {
        String form = "MessageSid=mv" + sids++ + "&From=" + encoded(phone(person)) + "&To=%2B15555550100&Body="
                + encoded(words);
        String answer = send(HttpRequest.newBuilder(server.resolve("/field/text"))
                .header("Content-Type", "application/x-www-form-urlencoded")
                .header("X-Duskpeg-Now", now)
                .POST(HttpRequest.BodyPublishers.ofString(form)));
        if (!answer.contains("Row ")) {
            throw new IOException("\"" + words + "\" was answered: " + answer);
        }
    }

    private String get(String path, String now) throws Exception {
        return send(HttpRequest.newBuilder(server.resolve(path)).header("X-Duskpeg-Now", now));
    }

    private String send(HttpRequest.Builder request) throws Exception {
        return http.send(request.build(), BodyHandlers.ofString()).body();
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }
}
