package duskpeg.projections.ops;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * What is a farm's has the farm in its key, and is asked for by it: read from the migrations and from the sources. What is
 * otherwise stands here, with why.
 */
class FarmKeysTest {

    private static final Pattern TABLE = Pattern.compile("create table (\\w+) \\((.*?)\\n\\);", Pattern.DOTALL);
    private static final Pattern DROPPED = Pattern.compile("drop table (\\w+);");
    private static final Pattern KEY = Pattern.compile("(?:primary key \\(([^)]*)\\)|(\\w+) [a-z0-9() ]*primary key)");
    private static final Pattern FARM = Pattern.compile("\\bfarm varchar\\(32\\) not null");
    private static final Pattern QUERY = Pattern.compile("\"((?:select|insert|update|delete|with)\\b[^\"]*)\"");

    /** Tables of farms whose rows have a number that the database counts up, or a name that is one for all farms. */
    private static final String COUNTED = "a number of its own, and the farm beside it";

    private static final String LOGGED = "an event's place in the log of all farms, and the farm beside it";

    private static final Map<String, String> OTHER_KEYS = Map.ofEntries(
            Map.entry("account", COUNTED + ": a login is one for all farms"),
            Map.entry("account_code", "a secret, drawn; the farm beside it"),
            Map.entry("auditor_link", COUNTED),
            Map.entry("board_act_1", LOGGED),
            Map.entry("board_act_2", LOGGED),
            Map.entry("custody", COUNTED),
            Map.entry("day_entry", COUNTED),
            Map.entry("farm_number", "a number leads to one farm"),
            Map.entry("field_text", COUNTED),
            Map.entry("figure_entry", COUNTED),
            Map.entry("harvest_entry", COUNTED),
            Map.entry("history_tie_1", LOGGED),
            Map.entry("history_tie_2", LOGGED),
            Map.entry("lot_entry", COUNTED),
            Map.entry("outgoing", COUNTED),
            Map.entry("said", COUNTED),
            Map.entry("settled", COUNTED),
            Map.entry("tie_use", COUNTED));

    private static final Map<String, String> NO_FARM = Map.ofEntries(
            Map.entry("account_note", "the farm is beside it, but for a login that is nobody's"),
            Map.entry("auditor_look", "of a link, which has the farm"),
            Map.entry("event", "a stream's name begins with the farm"),
            Map.entry("opted_out", "it is the number that asks, whatever farm it is of"),
            Map.entry("parked", "what it is about is the farm or begins with it"),
            Map.entry("projection", "which copy of all farms is looked at"),
            Map.entry("recovery_code", "of an account, which has the farm"),
            Map.entry("scheduled_tasks", "the scheduler's own"),
            Map.entry("second_factor", "of an account, which has the farm"),
            Map.entry("signing_key", "one key signs for all farms, each under its own name"),
            Map.entry("snapshot", "never written"),
            Map.entry("token", "how far the whole log was read"),
            Map.entry("turn", "rows to be held"),
            Map.entry("visit", "of an account, which has the farm"),
            Map.entry("witnessed", "others' logs, by their names"));

    /** How many queries of a class name no farm where they stand, and why. */
    private static final Map<String, Map.Entry<Integer, String>> NO_FARM_ASKED = Map.of(
            "AccountNotes", Map.entry(1, "the farm is in what is put behind it"),
            "Accounts", Map.entry(8, "an account has its number; the page holds it against its owner's farm"),
            "SecondFactors", Map.entry(1, "an account has its number; it is one's own"),
            "Health", Map.entry(2, "counts of the whole server"),
            "Restore", Map.entry(1, "the whole database is restored"),
            "OutgoingTexts",
                    Map.entry(14, "sending is the server's, by a text's number; what people ask for names the farm"),
            "Texts", Map.entry(2, "the farm is in what is put behind it"),
            "Index", Map.entry(1, "the farm is in what is put behind it"),
            "StripIndex", Map.entry(5, "the farm is in what is put behind it"));

    private static Stream<Path> files(String under, String ending) {
        return Stream.of("core", "messaging", "projections").flatMap(module -> {
            Path folder = Path.of("..", module, "src/main", under);
            if (!Files.isDirectory(folder)) {
                return Stream.of();
            }
            try (Stream<Path> files = Files.walk(folder)) {
                return files.filter(file -> file.toString().endsWith(ending)).toList().stream();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        });
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** What stands between the brackets of each table that was ever made and not dropped, by its name. */
    private static Map<String, String> tables() {
        Map<String, String> tables = new TreeMap<>();
        files("resources/db", ".sql").forEach(script -> {
            Matcher table = TABLE.matcher(read(script).replaceAll("--.*", ""));
            while (table.find()) {
                tables.put(table.group(1), table.group(2));
            }
        });
        files("resources/db", ".sql")
                .forEach(script -> DROPPED.matcher(read(script)).results().forEach(one -> tables.remove(one.group(1))));
        assertThat(tables).hasSizeGreaterThan(35);
        return tables;
    }

    @Test
    void aTableOfAFarmsHasTheFarmInItsKey() {
        TreeSet<String> otherKeys = new TreeSet<>();
        TreeSet<String> noFarm = new TreeSet<>();
        tables().forEach((name, columns) -> {
            Matcher key = KEY.matcher(columns);
            // A table without a key is looked up by what is indexed, and counts as one without the farm in its key.
            String of = !key.find() ? "" : key.group(1) == null ? key.group(2) : key.group(1);
            if (List.of(of.split(", ")).contains("farm")) {
                return;
            }
            (FARM.matcher(columns).find() ? otherKeys : noFarm).add(name);
        });
        assertThat(otherKeys).isEqualTo(new TreeSet<>(OTHER_KEYS.keySet()));
        assertThat(noFarm).isEqualTo(new TreeSet<>(NO_FARM.keySet()));
    }

    @Test
    void whatIsAFarmsIsAskedForByTheFarm() {
        Pattern ofFarms = Pattern.compile("\\b(?:from|into|update|join) (?:"
                + tables().entrySet().stream()
                        .filter(table -> FARM.matcher(table.getValue()).find())
                        .map(Map.Entry::getKey)
                        .collect(Collectors.joining("|"))
                + ")\\b");
        Map<String, List<String>> without = new TreeMap<>();
        int[] queries = new int[1];
        files("java", ".java").forEach(file -> {
            Matcher query = QUERY.matcher(read(file).replaceAll("\"\\s*\\+\\s*\"", ""));
            while (query.find()) {
                if (ofFarms.matcher(query.group(1)).find()) {
                    queries[0]++;
                    if (!query.group(1).matches("(?s).*\\bfarm\\b.*")) {
                        without.computeIfAbsent(
                                        file.getFileName().toString().replace(".java", ""), name -> new ArrayList<>())
                                .add(query.group(1));
                    }
                }
            }
        });
        assertThat(queries[0]).isGreaterThan(100);
        Map<String, Integer> counted = new TreeMap<>();
        without.forEach((name, some) -> counted.put(name, some.size()));
        Map<String, Integer> known = new TreeMap<>();
        NO_FARM_ASKED.forEach((name, some) -> known.put(name, some.getKey()));
        assertThat(counted).as(without.toString()).isEqualTo(known);
    }
}
