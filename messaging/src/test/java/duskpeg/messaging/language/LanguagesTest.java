package duskpeg.messaging.language;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.farm.FarmId;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Every language is held to what English is held to; docs/languages.md says how. */
class LanguagesTest {

    private static final FarmId FARM = new FarmId("farm");
    private static final Path PAGE = Path.of("..", "docs", "languages.md");
    private static final Pattern ROW = Pattern.compile("\\| `(\\w+)` \\| `(.*)` \\| (.*) \\|");
    private static final SortedMap<String, Vocabulary> ALL = Vocabulary.all(LanguageFiles.BUILT_IN);
    private static final List<Set<Meaning>> PAIRS = List.of(
            Set.of(Meaning.TIED, Meaning.TIE),
            Set.of(Meaning.OPENED, Meaning.FOUND_OPEN),
            Set.of(Meaning.LOST, Meaning.TORN),
            Set.of(Meaning.PEGGED, Meaning.PEG_OFF));
    private static final Set<Meaning> NUMBERS = EnumSet.of(Meaning.ROW, Meaning.COUNT, Meaning.MALES, Meaning.TIE);

    static Stream<String> languages() {
        return ALL.keySet().stream();
    }

    private static String read(String language, String text) {
        return Notation.of(new Reader(ALL.get(language)).read(text, FARM, 6, FieldLanguageTest.PRINTED));
    }

    static List<Arguments> nights() throws IOException {
        String page = Files.readString(PAGE);
        return page.substring(page.indexOf("| language | text | is read as |"))
                .lines()
                .skip(2)
                .map(line -> {
                    Matcher row = ROW.matcher(line);
                    assertThat(row.matches()).as(line).isTrue();
                    return Arguments.of(row.group(1), row.group(2), row.group(3));
                })
                .toList();
    }

    @Test
    void thereAreFive() {
        assertThat(ALL).containsOnlyKeys("af", "en", "es", "st", "zu");
    }

    @ParameterizedTest
    @MethodSource("nights")
    void aNightIsReadInItsOwnWords(String language, String text, String readAs) {
        assertThat(read(language, text)).isEqualTo(readAs);
    }

    @ParameterizedTest
    @MethodSource("languages")
    void aNightHasEveryAct(String language) throws IOException {
        List<String> readings = nights().stream()
                .filter(night -> night.get()[0].equals(language))
                .map(night -> (String) night.get()[2])
                .toList();

        assertThat(String.join("\n", readings))
                .contains("pegged row", "males", "opened", "pollinated", "bagged", "tied row", "culled", "harvested")
                .contains("lost row", "take back", "ask morning", "ask row", "help", "ties", "last 004716")
                .contains("at 17:40", "min ago", "yesterday", "torn", "found-open")
                .contains("ask strips", "handed over", "strip returned", "strip lost", "damaged 004712", "checked");
    }

    @ParameterizedTest
    @MethodSource("languages")
    void noWordHasTwoMeaningsThatCouldBeMistaken(String language) {
        assertThat(ALL.get(language).meanings().values().stream().filter(meanings -> meanings.size() > 1))
                .isSubsetOf(PAIRS);
        assertThat(Vocabulary.load(language).meanings().values().stream().filter(meanings -> meanings.size() > 1))
                .isSubsetOf(PAIRS);
    }

    @ParameterizedTest
    @MethodSource("languages")
    void everyMeaningHasAWord(String language) {
        Set<Meaning> said = EnumSet.noneOf(Meaning.class);
        words(language).values().forEach(said::addAll);

        assertThat(said).containsAll(EnumSet.complementOf(EnumSet.of(Meaning.NOT_READ)));
    }

    @ParameterizedTest
    @MethodSource("languages")
    void aSlipOfTheThumbNeverMakesOneActOfAnother(String language) {
        Map<String, Set<Meaning>> acts = new HashMap<>(words("en"));
        acts.putAll(words(language));
        acts.values().removeIf(meanings -> meanings.stream().noneMatch(LanguagesTest::beginsALine));
        Set<String> near = new TreeSet<>();
        acts.forEach((one, meant) -> acts.forEach((other, otherMeant) -> {
            boolean sameAct = meant.stream().filter(LanguagesTest::beginsALine).anyMatch(otherMeant::contains);
            if (!sameAct && distance(one, other) < 2) {
                near.add(one + " and " + other);
            }
        }));

        assertThat(near).isEmpty();
    }

    private static boolean beginsALine(Meaning meaning) {
        return meaning.isAct() || meaning == Meaning.STRIP || meaning == Meaning.DAMAGED;
    }

    @ParameterizedTest
    @MethodSource("languages")
    void aLetterThatBeginsTwoKindsOfNumberIsNotRead(String language) {
        for (String letter : List.of("r", "f", "m")) {
            Set<Meaning> begun = EnumSet.noneOf(Meaning.class);
            Map<String, Set<Meaning>> own = words(language);
            own.forEach((word, meanings) -> {
                if (word.startsWith(letter) && !meanings.contains(Meaning.TIED)) {
                    meanings.stream().filter(NUMBERS::contains).forEach(begun::add);
                }
            });
            Set<Meaning> read = ALL.get(language).of(letter);
            if (read.stream().anyMatch(NUMBERS::contains)) {
                assertThat(read).as(language + " " + letter).containsAll(begun);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("languages")
    void keysAndEnglishAreAlwaysUnderstood(String language) throws IOException {
        Vocabulary own = ALL.get(language);
        Vocabulary english = ALL.get("en");
        int compared = 0;
        for (Arguments example : FieldLanguageTest.examples()) {
            String text = (String) example.get()[0];
            boolean clashes = Pattern.compile("[a-z]+", Pattern.CASE_INSENSITIVE)
                    .matcher(text)
                    .results()
                    .anyMatch(word -> !own.of(word.group()).equals(english.of(word.group())));
            if (!clashes) {
                assertThat(read(language, text)).as(text).isEqualTo(read("en", text));
                compared++;
            }
        }

        assertThat(compared).isGreaterThan(150);
    }

    @ParameterizedTest
    @CsvSource({
        "lang es, es",
        "LANG ES, es",
        "language: af, af",
        "lang en, en",
        "lang english, en",
        "taal af, af",
        "idioma es, es",
        "ulimi zu, zu",
        "puo st, st",
        "espanol, es",
        "Español!, es",
        "lang español, es",
        "afrikaans, af",
        "isizulu, zu",
        "isi Zulu, zu",
        "sesotho, st",
        "English, en",
        "lang xhosa, xhosa",
        "lang, ''"
    })
    void whateverSheSpeaksSheCanAskForAnother(String text, String code) {
        languages().forEach(language -> assertThat(read(language, text)).isEqualTo("language " + code));
    }

    @Test
    void aReportBehindALanguageIsNotLost() {
        assertThat(read("es", "lang es 1 12 14")).isEqualTo("unread TOO_MUCH at 8 \"1\"");
        assertThat(read("es", "espanol 1 12 14")).isEqualTo("unread NO_ACT at 0 \"espanol\"");
        assertThat(read("es", "espanol; 1 12 14")).isEqualTo("language es / pegged row 12: 14");
    }

    @Test
    void aFarmAddsALanguageWithAFile(@TempDir Path folder) throws IOException {
        write(
                folder,
                "nso",
                english().replace("name = english", "name = sepedi").replace("pegged = peg", "pegged = tswala"));
        SortedMap<String, Vocabulary> all = Vocabulary.all(new LanguageFiles(folder));

        assertThat(all).containsOnlyKeys("af", "en", "es", "nso", "st", "zu");
        assertThat(all.get("nso").of("tswala")).containsExactly(Meaning.PEGGED);
        assertThat(all.get("af").named("sepedi")).contains("nso");
    }

    @Test
    void aFarmsOwnVersionOfALanguageComesFirst(@TempDir Path folder) throws IOException {
        write(folder, "af", english().replace("pegged = peg", "pegged = klem"));

        assertThat(Vocabulary.all(new LanguageFiles(folder)).get("af").of("klem"))
                .containsExactly(Meaning.PEGGED);
    }

    @Test
    void aFileThatIsNotWholeIsRefused(@TempDir Path folder) throws IOException {
        LanguageFiles files = new LanguageFiles(folder);
        write(folder, "nso", english().replace("culled =", "kulled ="));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Vocabulary.all(files))
                .withMessageContaining("culled");

        write(folder, "nso", english() + "\nsung = la\n");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Vocabulary.all(files))
                .withMessageContaining("sung");
    }

    @Test
    void aFolderThatIsNotThereIsRefused(@TempDir Path folder) {
        assertThatIllegalArgumentException().isThrownBy(() -> new LanguageFiles(folder.resolve("none")));
    }

    private static String english() throws IOException {
        try (var in = LanguagesTest.class.getResourceAsStream("/duskpeg/language/en.properties")) {
            return new String(in.readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
        }
    }

    private static void write(Path folder, String language, String words) throws IOException {
        Files.createDirectories(folder.resolve("language"));
        Files.writeString(folder.resolve("language").resolve(language + ".properties"), words);
    }

    /** The words of a language's own file as they are written there. */
    private static Map<String, Set<Meaning>> words(String language) {
        Map<String, Set<Meaning>> words = new HashMap<>();
        var file = LanguageFiles.BUILT_IN.read("language", language);
        for (Meaning meaning : Meaning.values()) {
            for (String word : file.getProperty(meaning.key()).split("\\s+")) {
                if (!word.isEmpty()) {
                    words.computeIfAbsent(word, unseen -> EnumSet.noneOf(Meaning.class))
                            .add(meaning);
                }
            }
        }
        return words;
    }

    /** How many letters must be put in, left out or changed to make one of the other. */
    private static int distance(String one, String other) {
        int[] before = new int[other.length() + 1];
        for (int j = 0; j <= other.length(); j++) {
            before[j] = j;
        }
        for (int i = 1; i <= one.length(); i++) {
            int[] now = new int[other.length() + 1];
            now[0] = i;
            for (int j = 1; j <= other.length(); j++) {
                int changed = before[j - 1] + (one.charAt(i - 1) == other.charAt(j - 1) ? 0 : 1);
                now[j] = Math.min(changed, 1 + Math.min(before[j], now[j - 1]));
            }
            before = now;
        }
        return before[other.length()];
    }
}
