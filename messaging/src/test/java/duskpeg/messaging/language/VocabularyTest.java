package duskpeg.messaging.language;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class VocabularyTest {

    private final Vocabulary english = Vocabulary.load("en");

    @ParameterizedTest
    @ValueSource(strings = {"peg", "PEG", "Pegged", "реg", "РEG", "рEg"})
    void knowsAWordByItsLook(String word) {
        assertThat(english.of(Signs.plain(word))).contains(Meaning.PEGGED).doesNotContain(Meaning.BAGGED);
    }

    @Test
    void knowsNothingElse() {
        assertThat(english.of("pegd")).isEmpty();
        assertThat(english.of("")).isEmpty();
        assertThat(english.of("peg".repeat(1000))).isEmpty();
    }

    @Test
    void onlyTheWordForTyingAndReasonsForALossHaveTwoMeanings() {
        assertThat(english.meanings().values().stream().filter(meanings -> meanings.size() > 1))
                .isNotEmpty()
                .isSubsetOf(
                        Set.of(Meaning.TIED, Meaning.TIE),
                        Set.of(Meaning.OPENED, Meaning.FOUND_OPEN),
                        Set.of(Meaning.LOST, Meaning.TORN),
                        Set.of(Meaning.PEGGED, Meaning.PEG_OFF));
    }

    @ParameterizedTest
    @ValueSource(strings = {"xx", "", "../en", "EN"})
    void refusesLanguagesThatAreNotThere(String language) {
        assertThatThrownBy(() -> Vocabulary.load(language)).isInstanceOf(IllegalArgumentException.class);
    }
}
