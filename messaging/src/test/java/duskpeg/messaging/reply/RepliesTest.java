package duskpeg.messaging.reply;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import com.ibm.icu.text.MessageFormat;
import duskpeg.messaging.language.LanguageFiles;
import duskpeg.messaging.language.Problem;
import duskpeg.messaging.language.Reader;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.language.Vocabulary;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Month;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** What every language says is held to what English says. */
class RepliesTest {

    private static final Pattern KEYS = Pattern.compile("(?<![0-9])[0-9] (\\p{L}+)");

    static Stream<String> languages() {
        return LanguageFiles.BUILT_IN.codes().stream();
    }

    static Stream<Arguments> phrases() {
        return languages()
                .flatMap(language ->
                        new TreeSet<>(Phrases.load(language).keys()).stream().map(key -> Arguments.of(language, key)));
    }

    @ParameterizedTest
    @MethodSource("languages")
    void hasEveryKeyOfEnglishAndNoOther(String language) {
        assertThat(Phrases.load(language).keys())
                .containsExactlyInAnyOrderElementsOf(Phrases.load("en").keys());
    }

    private static boolean isTexted(Arguments phrase) {
        return !((String) phrase.get()[1]).startsWith(Phrases.SPOKEN);
    }

    static Stream<Arguments> texted() {
        return phrases().filter(RepliesTest::isTexted);
    }

    static Stream<Arguments> spoken() {
        return phrases().filter(phrase -> !isTexted(phrase));
    }

    /** What is said on a call is short, since it is waited for, and leaves no brace open. */
    @ParameterizedTest
    @MethodSource("spoken")
    void isSaidInUnderHalfAMinute(String language, String key) {
        String said = Phrases.load(language)
                .say(
                        key,
                        "row",
                        "9 9 9",
                        "count",
                        999,
                        "males",
                        999,
                        "ties",
                        "004711",
                        "tie",
                        "004711",
                        "keys",
                        "1, 2",
                        "why",
                        "no",
                        "hours",
                        23,
                        "minutes",
                        59,
                        "plant",
                        999,
                        "plants",
                        "row 9 9 9 plant 999");

        assertThat(said).isNotBlank().doesNotContain("{", "}");
        // Common practice, no source: a slow voice says ten characters a second or more.
        assertThat(said).hasSizeLessThan(300);
    }

    @ParameterizedTest
    @MethodSource("languages")
    void isSpokenInALanguageThatSpeaksItself(String language) {
        String spoken = Phrases.load(language).say("voice.in");

        assertThat(Phrases.load(spoken).say("voice.in")).isEqualTo(spoken);
        assertThat(Phrases.load(spoken).say("voice.language")).startsWith(spoken + "-");
    }

    /** Each of these alone is at most one segment, with every value as long as it can be, and leaves no brace open. */
    @ParameterizedTest
    @MethodSource("texted")
    void isOneSegmentWithTheLongestValues(String language, String key) {
        String said = Phrases.load(language).say(key, longest(key));

        assertThat(said).isNotBlank().doesNotContain("{", "}");
        assertThat(Gsm7.covers(said)).as(said).isTrue();
        assertThat(Gsm7.septets(said)).as(said).isLessThanOrEqualTo(Gsm7.SEGMENT);
    }

    /** What English says with a value, each language says with it, but for what its own choice of words makes needless. */
    @ParameterizedTest
    @MethodSource("phrases")
    void saysEveryValueThatEnglishSays(String language, String key) {
        assertThat(arguments(language, key)).containsAll(arguments("en", key));
    }

    @ParameterizedTest
    @MethodSource("languages")
    void hasTwelveMonths(String language) {
        Phrases phrases = Phrases.load(language);
        List<String> months = Arrays.stream(Month.values()).map(phrases::month).toList();

        assertThat(months).doesNotHaveDuplicates().allMatch(month -> month.matches("\\p{L}{3,4}"));
    }

    @ParameterizedTest
    @MethodSource("languages")
    void theWordsOfItsHelpAreRead(String language) {
        Reader reader = new Reader(Vocabulary.all(LanguageFiles.BUILT_IN).get(language));
        for (String key : List.of("help", "unread.no_act")) {
            String help = Phrases.load(language).say(key, "word", "xx");
            List<String> acts = KEYS.matcher(help)
                    .results()
                    .map(act -> act.group(0))
                    .limit(8)
                    .toList();
            assertThat(acts).hasSize(8);
            for (String act : acts) {
                String keyed = act.substring(0, 1) + " 12 3";
                String worded = act.substring(2) + " 12 3";
                assertThat(said(reader, worded)).as(act).isEqualTo(said(reader, keyed));
            }
        }
    }

    private static Object said(Reader reader, String text) {
        Reading reading = reader.read(text, Field.HILL, 6).get(0).reading();
        return reading instanceof Reading.Said said ? said.statement() : reading;
    }

    @ParameterizedTest
    @CsvSource({"1, pinzada", "2, pinzadas", "999, pinzadas"})
    void wordsFollowTheirNumber(int count, String word) {
        assertThat(Phrases.load("es").say("deed.pegged", "count", count)).isEqualTo(word);
        assertThat(Phrases.load("es").say("pegged", "row", 1, "count", count, "day", "15 ago"))
                .isEqualTo("Fila 1: " + count + " " + word + " para el 15 ago.");
    }

    @Test
    void anUnknownLanguageIsAnsweredWithThoseThereAre() {
        Outcome unknown = new Outcome.LanguageUnknown(new TreeMap<>(Map.of("en", "English", "st", "Sesotho")));

        assertThat(new Field().at("17:10").reply(unknown))
                .isEqualTo("Languages: en English, st Sesotho. Send: lang en");
    }

    @Test
    void aFarmsOwnRepliesComeFirst(@TempDir Path folder) throws IOException {
        write(folder, english().replace("taken.nothing = Nothing of yours", "taken.nothing = Naught of yours"));

        assertThat(Phrases.load("nso", new LanguageFiles(folder)).say("taken.nothing"))
                .startsWith("Naught");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "males =     | mules =                    | males",
                "taken =     | taken = x\u00ea           | taken",
                "failed =    | failed = {xxx              | nso",
                "taken.row = | taken.rows = x             | taken.rows"
            })
    void aFileThatIsNotWholeIsRefused(String whole, String broken, String named, @TempDir Path folder)
            throws IOException {
        write(folder, english().replace("\n" + whole, "\n" + broken + " "));

        assertThatIllegalArgumentException()
                .isThrownBy(() -> Phrases.load("nso", new LanguageFiles(folder)))
                .withMessageContaining("nso")
                .withMessageContaining(named);
    }

    @Test
    void whatIsSaidAloneMustFit(@TempDir Path folder) throws IOException {
        write(folder, english().replace("\nhelp = ", "\nhelp = " + "Please ".repeat(20)));

        assertThatIllegalArgumentException()
                .isThrownBy(() -> Phrases.load("nso", new LanguageFiles(folder)))
                .withMessageContaining("help");
    }

    private static String english() throws IOException {
        try (var in = RepliesTest.class.getResourceAsStream("/duskpeg/reply/en.properties")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static void write(Path folder, String replies) throws IOException {
        Files.createDirectories(folder.resolve("reply"));
        Files.writeString(folder.resolve("reply").resolve("nso.properties"), replies);
    }

    private static Set<String> arguments(String language, String key) {
        Properties file = LanguageFiles.BUILT_IN.read("reply", language);
        return new MessageFormat(file.getProperty(key), Locale.ROOT)
                .getArgumentNames().stream()
                        .filter(name -> !name.endsWith("_n"))
                        .collect(Collectors.toCollection(TreeSet::new));
    }

    /** The longest values a phrase can come with where it must still be whole; the writer shortens what is longer. */
    private static Object[] longest(String key) {
        if (key.startsWith("question.")) {
            List<String> values = Said.LONGEST.entrySet().stream()
                    .filter(entry -> key.equals("question." + entry.getKey().word()))
                    .findFirst()
                    .orElseThrow()
                    .getValue();
            Object[] named = new Object[2 * values.size()];
            for (int i = 0; i < values.size(); i++) {
                named[2 * i] = "v" + i;
                named[2 * i + 1] = values.get(i);
            }
            return named;
        }
        Map<String, Object> values = new TreeMap<>(Map.of(
                "row", "999",
                "count", 39960,
                "total", 39960,
                "day", "30 Sept",
                "males", 79920,
                "needed", 79920,
                "lines", 40));
        values.putAll(Map.of(
                "pegged",
                39960,
                "tied",
                39960,
                "lost",
                39960,
                "left",
                key.startsWith("time") ? "9h59" : 39960,
                "limit",
                "10:00",
                "tie",
                "888888888",
                "state",
                "harvested",
                "what",
                "999 xxxxxxxxxxxxx 888888888-888888888",
                "unread",
                40));
        // A name and words that fill a text; the one who tells is refused what is longer.
        values.putAll(Map.of("name", "x".repeat(20), "words", "x".repeat(138)));
        values.putAll(Map.of(
                // Four visits at once: the longest word for each.
                "deeds", "xxxxxxxxxxxx, xxxxxxxxxxxxx, xxxxxxxxxxxxx, xxxxxxxxxxx",
                "ties", " 888888888-888888888",
                "deed", "xxxxxxxxxxxxx",
                "when", "30 Sept 18:15",
                "names", "xxxxxxxxxxxxxxxx, xxxxxxxxxxxxxxxx +40",
                "rows", "row 999 999, row 998 999, row 997 999",
                "languages", "af Afrikaans, en English, es espa\u00f1ol, st Sesotho, zu isiZulu",
                // Twelve characters of the extension table, at two septets each.
                "word",
                        Arrays.stream(Problem.values())
                                        .anyMatch(p ->
                                                key.equals("unread." + p.name().toLowerCase(Locale.ROOT)))
                                ? "[".repeat(12)
                                : "xxxxxxxxxxxx"));
        // Warnings: one of a list, which is shortened to what there is room for; days where they are not today.
        values.putAll(Map.of(
                "list",
                "x".repeat(60) + " 999",
                "where",
                "x".repeat(24),
                "from",
                "30 Sept 23:59",
                "until",
                "30 Sept 23:59",
                "start",
                "23:59",
                "in",
                999));
        values.putAll(Map.of("strip", "888888888-888888888", "strips", "888888888-888888888", "days", 99));
        return values.entrySet().stream()
                .flatMap(value -> Stream.of(value.getKey(), value.getValue()))
                .toArray();
    }
}
