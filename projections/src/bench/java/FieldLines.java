import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import java.util.Random;

/** Writes lines that a crew could text, in the languages whose words are in a folder, and slips of the thumb in them. */
final class FieldLines {

    private static final List<String> ACTS = List.of(
            "taken-back", "pegged", "opened", "pollinated", "bagged", "tied", "culled", "harvested", "lost", "asked");
    private static final List<String> REASONS = List.of("found-open", "torn", "peg-off", "no-pollen");
    private static final List<String> VISITS =
            List.of("2", "3", "4", "5", "23", "34", "45", "2345", "345", "234", "2+3", "2 3 4 5", "25");
    private static final String SLIPS = "0123456789 .,-+*#/:;?!@&'\"\n\tabeglmnoprstuyzOlI|½%€é";
    private static final int ROWS = 24;

    private final List<Properties> languages;

    private FieldLines(List<Properties> languages) {
        this.languages = languages;
    }

    /** The languages in that folder. */
    static FieldLines of(Path folder) throws IOException {
        List<Properties> languages = new ArrayList<>();
        try (var files = Files.newDirectoryStream(folder, "*.properties")) {
            for (Path file : files) {
                Properties language = new Properties();
                try (Reader in = Files.newBufferedReader(file)) {
                    language.load(in);
                }
                languages.add(language);
            }
        }
        // The order of a folder is the file system's; a replay needs one order everywhere.
        languages.sort((one, other) -> one.getProperty("name").compareTo(other.getProperty("name")));
        return new FieldLines(languages);
    }

    /** A line that says something, mostly well. */
    String line(Random random) {
        Properties words = languages.get(random.nextInt(languages.size()));
        int deed = random.nextInt(24);
        return switch (deed) {
            case 0 -> act(words, 0, random) + (random.nextBoolean() ? "" : " " + row(random));
            case 1, 2, 3, 4 -> pegged(words, random) + time(words, random);
            case 5, 6, 7, 8, 9, 10 -> visit(words, random) + time(words, random);
            case 11, 12, 13 -> named(words, random) + time(words, random);
            case 14, 15, 16 -> lost(words, random) + time(words, random);
            case 17, 18, 19, 20 -> fruit(words, random) + time(words, random);
            case 21 -> act(words, 9, random) + (random.nextBoolean() ? " " + row(random) : " " + tie(random));
            case 22 -> random.nextInt(8) > 0 ? "?" : act(words, 9, random);
            default ->
                random.nextInt(4) > 0
                        ? word(words, "help", random)
                        : word(words, "language", random) + " "
                                + List.of("en", "af", "es", "st", "zu", "xx").get(random.nextInt(6));
        };
    }

    private String pegged(Properties words, Random random) {
        String act = act(words, 1, random);
        int count = count(random);
        return switch (random.nextInt(4)) {
            case 0 -> act + " " + row(random) + " " + count;
            case 1 -> act + " " + row(random) + " " + count + " " + 2 * count;
            case 2 ->
                act + " " + word(words, "row", random) + " " + row(random) + " " + count + " "
                        + word(words, "count", random) + " " + 2 * count + " " + word(words, "males", random);
            default -> act + "*" + row(random) + "*" + count + "#";
        };
    }

    private String visit(Properties words, Random random) {
        String acts = random.nextInt(3) > 0
                ? VISITS.get(random.nextInt(VISITS.size()))
                : act(words, 2 + random.nextInt(3), random);
        return acts + " " + row(random) + " " + count(random);
    }

    private String named(Properties words, Random random) {
        int first = random.nextInt(990_000);
        int count = 1 + random.nextInt(9);
        String ties = random.nextBoolean() ? "%06d-%06d".formatted(first, first + count - 1) : "%06d".formatted(first);
        String act = random.nextBoolean() ? act(words, 5, random) : "2345";
        return act + " " + row(random) + " " + (random.nextBoolean() ? count + " " : "") + ties;
    }

    private String lost(Properties words, Random random) {
        String reason = switch (random.nextInt(3)) {
            case 0 -> "";
            case 1 -> " " + (1 + random.nextInt(4));
            default -> " " + word(words, REASONS.get(random.nextInt(REASONS.size())), random);
        };
        return act(words, 8, random) + " " + row(random) + " " + count(random) + reason;
    }

    private String fruit(Properties words, Random random) {
        String act = act(words, 6 + random.nextInt(2), random);
        return random.nextBoolean() ? act + " " + row(random) + " " + count(random) : act + " " + tie(random);
    }

    private String time(Properties words, Random random) {
        return switch (random.nextInt(12)) {
            case 0 -> " " + word(words, "at", random) + " %02d%02d".formatted(random.nextInt(24), random.nextInt(60));
            case 1 -> " " + word(words, "yesterday", random);
            case 2 ->
                " " + (1 + random.nextInt(90)) + " " + word(words, "minutes", random) + " "
                        + word(words, "ago", random);
            default -> "";
        };
    }

    private static String act(Properties words, int key, Random random) {
        return random.nextBoolean() ? Integer.toString(key) : word(words, ACTS.get(key), random);
    }

    private static String word(Properties words, String key, Random random) {
        String[] all = words.getProperty(key, "").strip().split("\\s+");
        return all[random.nextInt(all.length)];
    }

    private static int row(Random random) {
        return random.nextInt(40) == 0 ? 25 + random.nextInt(975) : 1 + random.nextInt(ROWS);
    }

    private static int count(Random random) {
        return 1 + random.nextInt(random.nextInt(20) == 0 ? 999 : 30);
    }

    private static String tie(Random random) {
        return "%06d".formatted(random.nextInt(1_000_000));
    }

    /** The line with one to three slips: swapped, dropped, doubled, wrong or joined characters, a word said twice. */
    static String slip(String line, Random random) {
        StringBuilder slipped = new StringBuilder(line);
        for (int slips = 1 + random.nextInt(3); slips > 0 && slipped.length() > 1; slips--) {
            int at = random.nextInt(slipped.length() - 1);
            char other = SLIPS.charAt(random.nextInt(SLIPS.length()));
            switch (random.nextInt(8)) {
                case 0 -> {
                    char first = slipped.charAt(at);
                    slipped.setCharAt(at, slipped.charAt(at + 1));
                    slipped.setCharAt(at + 1, first);
                }
                case 1 -> slipped.deleteCharAt(at);
                case 2 -> slipped.insert(at, slipped.charAt(at));
                case 3 -> slipped.setCharAt(at, other);
                case 4 -> slipped.insert(at, other);
                case 5 -> {
                    int space = slipped.indexOf(" ", at);
                    slipped.deleteCharAt(space < 0 ? at : space);
                }
                case 6 -> slipped.append(' ').append(slipped.substring(at));
                default -> slipped.setLength(at + 1);
            }
        }
        return slipped.toString();
    }
}
