package duskpeg.projections.ops;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;

/** Every table that any migration makes is backed up or can be made anew: none is forgotten. */
class KeptTest {

    private static final Pattern TABLE = Pattern.compile("(create|drop) table (?:if (?:not )?exists )?\"?([a-z_0-9]+)");

    private static List<String> tables() throws IOException {
        List<String> tables = new ArrayList<>(List.of("flyway_schema_history"));
        Resource[] scripts = new PathMatchingResourcePatternResolver().getResources("classpath*:db/**/V*.sql");
        assertThat(scripts).hasSizeGreaterThanOrEqualTo(13);
        Map<String, Resource> byName = new TreeMap<>();
        Stream.of(scripts).forEach(script -> byName.put(script.getFilename(), script));
        byName.values().stream()
                .sorted((one, other) -> Integer.compare(version(one), version(other)))
                .map(KeptTest::text)
                .forEach(script -> {
                    Matcher found = TABLE.matcher(script.toLowerCase(Locale.ROOT));
                    while (found.find()) {
                        if (found.group(1).equals("create")) {
                            tables.add(found.group(2));
                        } else {
                            tables.remove(found.group(2));
                        }
                    }
                });
        return tables;
    }

    private static int version(Resource script) {
        return Integer.parseInt(script.getFilename().replaceAll("V([0-9]+)__.*", "$1"));
    }

    private static String text(Resource script) {
        try {
            return script.getContentAsString(StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void everyTableIsInOneOfTheTwoLists() throws IOException {
        List<String> listed = new ArrayList<>(Kept.MADE_ANEW.keySet());
        Kept.TABLES.forEach(table -> listed.add(table.name()));

        assertThat(listed).containsExactlyInAnyOrderElementsOf(tables());
    }
}
