package duskpeg.messaging.language;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.Holdings;
import duskpeg.core.farm.FarmId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.messaging.language.Suggestions.Suggestion;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SuggestionsTest {

    private static final FarmId FARM = new FarmId("hill");
    private static final int TIE_WIDTH = 6;
    private static final SortedMap<String, Vocabulary> LANGUAGES = Vocabulary.all(LanguageFiles.BUILT_IN);

    /** Rows 1 to 24 of 40 plants each. */
    private static final Map<RowId, Integer> PLANTS = IntStream.rangeClosed(1, 24)
            .mapToObj(row -> new RowId(FARM, Integer.toString(row)))
            .collect(Collectors.toMap(Function.identity(), row -> 40));

    private static List<Suggestion> suggest(String language, String words, String before) {
        return new Suggestions(LANGUAGES.get(language), FARM, TIE_WIDTH, new Holdings(List.of()), PLANTS)
                .of(words, before);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                // A word that is near.
                "pegd 12 14           | 1 12 14           | pegged row 12: 14",
                "pegged 12 14 maels 28 | 1 12 14 28       | pegged row 12: 14, males 28",
                "pollinaetd 12 6      | 3 12 6            | pollinated row 12: 6",
                "pgd 12 14            | 1 12 14           | pegged row 12: 14",
                "plntd 12 6           | 3 12 6            | pollinated row 12: 6",
                // Words that mean nothing.
                "good morning 1 12 14 | 1 12 14           | pegged row 12: 14",
                "1 12 14 xyz          | 1 12 14           | pegged row 12: 14",
                // Both.
                "pgeged rwo 12 14     | 1 12 14           | pegged row 12: 14",
                // Digits that ran together.
                "11214                | 1 12 14           | pegged row 12: 14",
                "1 1214               | 1 12 14           | pegged row 12: 14",
                "1 12 1428            | 1 12 14 28        | pegged row 12: 14, males 28",
                // Acts keyed apart.
                "2 3 4 5 12 6         | 2345 12 6         | opened, pollinated, bagged, tied row 12: 6, the next ties of her strip",
                // The act is not in front.
                "row 12 pegged 14     | 1 12 14           | pegged row 12: 14",
                // Only one of the two can be a row.
                "1 40 12              | 1 12 40           | pegged row 12: 40",
                // A time stays.
                "xx 1 12 14 at 1815   | 1 12 14 @1815     | pegged row 12: 14, at 18:15",
                "lost 12 2 trn        | 8 12 2 2          | lost row 12: 2, torn"
            })
    void theNearestReadingComesFirst(String words, String meant, String says) {
        List<Suggestion> suggestions = suggest("en", words, "");

        assertThat(suggestions).isNotEmpty();
        assertThat(suggestions.get(0).words()).isEqualTo(meant);
        assertThat(suggestions.get(0).says()).isEqualTo(says);
    }

    @Test
    void theActOfTheTextBeforeIsOfferedWhereThereIsNone() {
        assertThat(suggest("en", "12 6", "2345 11 5"))
                .extracting(Suggestion::words)
                .contains("2345 12 6");
    }

    @Test
    void runTogetherDigitsThatCouldBeSeveralThingsAreAllOffered() {
        assertThat(suggest("en", "2345126", ""))
                .extracting(Suggestion::words)
                .hasSizeGreaterThan(1)
                .contains("2345 12 6");
    }

    @Test
    void wordsOfHerOwnLanguageAreNearToo() {
        assertThat(suggest("af", "kyp 12 14", "")).extracting(Suggestion::words).contains("1 12 14");
    }

    @ParameterizedTest
    @CsvSource({"hello there", "''", "thank you so much", "1 99 100", "9 12", "undoo", "0 12 xx", "12.7"})
    void whereNothingIsNearNothingIsOffered(String words) {
        assertThat(suggest("en", words, "")).isEmpty();
    }

    @Test
    void aWholeTextOfSeveralLinesIsOfferedTogether() {
        assertThat(suggest("en", "1 12 14\npegd 13 9", ""))
                .extracting(Suggestion::words)
                .containsExactly("1 12 14\n1 13 9");
    }

    @Test
    void aWholeTextThatCouldBeReadIsOfferedAsItIs() {
        assertThat(suggest("en", "1*12*14#", "")).extracting(Suggestion::words).containsExactly("1 12 14");
    }

    @Provide
    Arbitrary<String> texts() {
        Arbitrary<String> words = Arbitraries.of(
                "peg",
                "pegd",
                "1",
                "2345",
                "12",
                "14",
                "m",
                "28",
                "11214",
                "row",
                "rwo",
                "torn",
                "004711",
                "at",
                "0730",
                "thanks",
                "0",
                "9",
                "40",
                "\n",
                ";",
                "-",
                "5",
                "7",
                "12.7",
                "yesterday",
                "\uD83C\uDF3C");
        return Arbitraries.oneOf(
                words.list().ofMaxSize(7).map(list -> String.join(" ", list)),
                Arbitraries.strings().ofMaxLength(30));
    }

    @Property(tries = 300)
    void aSuggestionAlwaysReadsCompletelyInEveryLanguage(@ForAll("texts") String text, @ForAll("texts") String before) {
        LANGUAGES.forEach((language, vocabulary) -> {
            List<Suggestion> suggestions = suggest(language, text, before);

            assertThat(suggestions).hasSizeLessThanOrEqualTo(3).doesNotHaveDuplicates();
            for (Suggestion suggestion : suggestions) {
                List<Line> lines = new Reader(vocabulary).read(suggestion.words(), FARM, TIE_WIDTH);
                assertThat(lines.stream().map(Line::reading))
                        .as(language + " " + suggestion.words())
                        .allMatch(reading -> reading instanceof Reading.Said said
                                && !(said.statement() instanceof Statement.TakeBack));
                assertThat(lines.stream().map(line -> ((Reading.Said) line.reading()).statement()))
                        .containsExactlyElementsOf(suggestion.statements());
            }
        });
    }
}
