package duskpeg.messaging.reply;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.report.Statement;
import duskpeg.messaging.language.LanguageFiles;
import duskpeg.messaging.language.Problem;
import duskpeg.messaging.language.Reader;
import duskpeg.messaging.language.Vocabulary;
import java.lang.reflect.RecordComponent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** What is said before a report is written down. */
class ReadBackTest {

    private static String said(String language, String words) {
        Reader reader = new Reader(Vocabulary.all(LanguageFiles.BUILT_IN).get(language));
        return new ReadBack(Phrases.load(language)).of(reader.read(words, Field.HILL, 6));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "1 12 14 28 | Pegged, row 1 2, 14 flowers, 28 males.",
                "1 12 1 | Pegged, row 1 2, 1 flower.",
                "2345 12 6 | Opened, pollinated, bagged, tied, row 1 2, 6 flowers.",
                "2345 12 6 4716 | Opened, pollinated, bagged, tied, row 1 2, 6 flowers, last tie 0 0 4 7 1 6.",
                "5 12 2 4711 4712 | Tied, row 1 2, 2 flowers, ties 0 0 4 7 1 1 to 0 0 4 7 1 2.",
                "5 12 2 4711 4713 | Tied, row 1 2, 2 flowers, ties 0 0 4 7 1 1 0 0 4 7 1 3.",
                "8 12 1 | Lost, row 1 2, 1 flower.",
                "8 12 2 1 | Lost, row 1 2, 2 flowers, found open.",
                "75 1 12 7 2 | Pegged, row 1 2, plant 7, 2 flowers.",
                "3 12 1 from 3.9 14.2 | Pollinated, row 1 2, 1 flower, males from row 3 plant 9, row 1 4 plant 2.",
                "6 12 9 | Culled, row 1 2, 9 fruit.",
                "7 4711 | Harvested, ties 0 0 4 7 1 1.",
                "7 12 4711 | Harvested, row 1 2, ties 0 0 4 7 1 1.",
                "0 | Take back your last report.",
                "0 12 | Take back your last report, row 1 2."
            })
    void saysWhatWasUnderstood(String keys, String said) {
        assertThat(said("en", keys)).isEqualTo(said);
    }

    @Test
    void whatThereAreNoSpokenWordsForIsSaidAsItWasKeyed() {
        assertThat(said("en", "1 12 14; 12 6")).isEqualTo("Pegged, row 1 2, 14 flowers. You keyed 1 2, 6.");
        assertThat(said("en", "1 12 14 at 0730")).startsWith("You keyed 1, 1 2, 1 4, ");
    }

    @Test
    void speaksTheLanguage() {
        assertThat(said("es", "1 12 1 2")).isEqualTo("Pinzada, fila 1 2, 1 flor, 2 machos.");
        assertThat(said("af", "0")).isEqualTo("Neem jou laaste berig terug.");
    }

    /** Whoever lets a report say more must let it be read back: what is confirmed unheard is a mistake waiting. */
    @Test
    void everythingThatFlowersCanBeReportedWithIsReadBack() {
        assertThat(Statement.OnFlowers.class.getRecordComponents())
                .extracting(RecordComponent::getName)
                .containsExactly("row", "deeds", "count", "males", "ties", "reason", "plant", "sires");
    }

    @ParameterizedTest
    @EnumSource
    void saysWhyALineWasNotUnderstood(Problem problem) {
        String said = new ReadBack(Phrases.load("en")).unread(problem);

        assertThat(said).matches("Not noted: [^{}]+\\.");
    }

    @Test
    void whatNoKeypadCanBringAboutIsOnlyNotRead() {
        assertThat(new ReadBack(Phrases.load("en")).unread(Problem.PLANT)).isEqualTo("Not noted: I can't read it.");
    }
}
