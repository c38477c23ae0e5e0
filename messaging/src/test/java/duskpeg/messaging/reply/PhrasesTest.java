package duskpeg.messaging.reply;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.report.Question.Kind;
import duskpeg.messaging.language.Problem;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class PhrasesTest {

    private final Phrases english = Phrases.load("en");

    /** Every key the code can ask for. Taking back is answered with the deeds that were taken back, never itself. */
    private static Stream<String> keys() {
        return Stream.of(
                        Said.KEYS.stream(),
                        Said.SPOKEN.stream(),
                        Arrays.stream(Deed.values())
                                .filter(deed -> deed != Deed.TAKEN_BACK)
                                .map(deed -> "deed." + deed.word()),
                        Arrays.stream(LossReason.values()).map(reason -> "reason." + reason.word()),
                        Arrays.stream(Fruit.State.values()).map(state -> "state." + state.word()),
                        Arrays.stream(Problem.values())
                                .map(problem -> "unread." + problem.name().toLowerCase(Locale.ROOT)),
                        Arrays.stream(Kind.values()).map(kind -> "question." + kind.word()),
                        Arrays.stream(Outcome.Who.Reason.values()).map(reason -> "who." + reason.word()))
                .flatMap(each -> each);
    }

    @Test
    void saysEverythingTheCodeAsksForAndNothingMore() {
        assertThat(english.keys()).containsExactlyInAnyOrderElementsOf(keys().toList());
    }

    @ParameterizedTest
    @EnumSource
    void everyQuestionIsSaidWithItsValues(Kind kind) {
        List<String> values = Said.LONGEST.get(kind);
        Object[] named = new Object[2 * values.size()];
        for (int i = 0; i < values.size(); i++) {
            named[2 * i] = "v" + i;
            named[2 * i + 1] = values.get(i);
        }

        String said = english.say("question." + kind.word(), named);

        // A placeholder without a value would stay in braces.
        assertThat(said).isNotBlank().doesNotContain("{", "}");
        assertThat(Gsm7.covers(said)).isTrue();
    }

    @ParameterizedTest
    @EnumSource
    void everyProblemIsSaidWithItsWord(Problem problem) {
        String said = english.say("unread." + problem.name().toLowerCase(Locale.ROOT), "word", "rwo");

        assertThat(said).isNotBlank().doesNotContain("{", "}");
        assertThat(Gsm7.covers(said)).isTrue();
    }

    @ParameterizedTest
    @ValueSource(strings = {"unknown.sender", "failed", "help", "taken.nothing"})
    void whatIsSaidAloneIsOneSegment(String key) {
        assertThat(Gsm7.septets(english.say(key))).isPositive().isLessThanOrEqualTo(Gsm7.SEGMENT);
    }

    @Test
    void putsValuesInTheirPlaces() {
        assertThat(english.say("taken.row", "what", "pegged", "count", 14, "row", "12"))
                .isEqualTo("row 12: 14 pegged");
    }

    @Test
    void numbersAreWrittenAsTheyAreKeyed() {
        // No thousands separators: what a worker reads is what she would send.
        assertThat(english.say("more", "count", 1000)).isEqualTo("+1000 more noted.");
    }

    @Test
    void aStrangersBracesAreOnlyBraces() {
        assertThat(english.say("unread.brief", "word", "{row}")).isEqualTo("NOT NOTED: \"{row}\".");
    }

    @Test
    void aQuoteIsOneQuote() {
        assertThat(english.say("question.tie-of-another", "v0", "004711"))
                .isEqualTo("CHECK: tie 004711 is from another's strip.");
    }

    @Test
    void anUnknownKeyIsRefused() {
        assertThatIllegalArgumentException().isThrownBy(() -> english.say("question.why"));
    }

    @Test
    void anUnknownLanguageIsRefused() {
        assertThatIllegalArgumentException().isThrownBy(() -> Phrases.load("xx"));
    }

    @Test
    void knowsItsLocale() {
        assertThat(english.locale()).isEqualTo(Locale.ENGLISH);
    }
}
