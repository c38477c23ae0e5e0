package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A worker's language, over HTTP. */
class LanguageTest {

    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String DAWN = "2026-11-26T08:08:00+02:00";
    private static final FarmId FARM = new FarmId("marrowfield");

    private static TestFarm farm;

    @BeforeAll
    static void start(@TempDir Path folder) throws IOException {
        // A language the server does not bring along: English, but for its name and two words.
        copy(folder, "language", "name = english", "name = sepedi");
        copy(folder, "reply", "language.changed = You are answered in English", "language.changed = Sepedi");
        farm = new TestFarm(Engine.H2, "--duskpeg.languages-dir=" + folder);
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    private static void copy(Path folder, String kind, String from, String to) throws IOException {
        try (var in = LanguageTest.class.getResourceAsStream("/duskpeg/" + kind + "/en.properties")) {
            String english = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            assertThat(english).contains(from);
            Files.createDirectories(folder.resolve(kind));
            Files.writeString(folder.resolve(kind).resolve("nso.properties"), english.replace(from, to));
        }
    }

    private static WorkerId worker(String pseudonym) {
        return new WorkerId(FARM, pseudonym);
    }

    private static String language(String pseudonym) {
        return farm.bean(People.class).all(FARM).stream()
                .filter(person -> person.worker().equals(worker(pseudonym)))
                .map(People.Person::language)
                .findFirst()
                .orElseThrow();
    }

    @ParameterizedTest
    @ValueSource(strings = {"af", "en", "es", "st", "zu"})
    void hasAFieldCardToPrint(String code) {
        assertThat(farm.get("/").body()).contains("href=\"/card/index.html\"");
        assertThat(farm.get("/phone").body()).contains("href=\"/card/index.html\"");
        assertThat(farm.get("/card/index.html").body()).contains("href=\"field-card-" + code + ".pdf\"");

        HttpResponse<String> card = farm.get("/card/field-card-" + code + ".pdf");

        assertThat(card.statusCode()).isEqualTo(200);
        assertThat(card.headers().firstValue("Content-Type")).hasValue("application/pdf");
        assertThat(card.body()).startsWith("%PDF-");
    }

    @Test
    void sheChangesItByTextAndIsAnsweredInItFromThenOn() {
        farm.at(EVENING);

        assertThat(farm.text("Pieter", "knyp 1 14 28")).startsWith("NOT NOTED");
        assertThat(farm.text("Pieter", "lang af"))
                .isEqualTo("Van nou af word jy in Afrikaans geantwoord. Stuur ? vir hulp.");
        assertThat(language("w2")).isEqualTo("af");
        assertThat(farm.text("Pieter", "knyp 1 14 28")).isEqualTo("Ry 1: 14 geknyp vir 26 Nov. Mannetjies 28 van 28.");
        assertThat(farm.text("Pieter", "peg row 2 9 males 18"))
                .isEqualTo("Ry 2: 9 geknyp vir 26 Nov. Mannetjies 18 van 18.");
        assertThat(farm.counts("2026-11-26", "1")).startsWith("pegged 14, males 28");

        assertThat(farm.at(DAWN).text("Pieter", "espanol"))
                .isEqualTo("Desde ahora se le responde en español. Mande ? para ver la ayuda.");
        assertThat(farm.text("Pieter", "2345 1 1"))
                .isEqualTo("Fila 1: 1 abierta, polinizada, embolsada, atada 004750. Quedan 13. 1h52 hasta las 10:00.");
        assertThat(farm.text("Pieter", "english")).startsWith("You are answered in English");
        assertThat(farm.text("Pieter", "0")).startsWith("Taken back: row 1: 1 opened");
    }

    @Test
    void aReportInTheSameTextIsNotedAndAnsweredInTheNewLanguage() {
        assertThat(farm.at(EVENING).text("Lerato", "1 3 5 10; sesotho"))
                .isEqualTo("Mola 3: 5 di kwetswe, 26 Nof. Tse tona 10 ho 10."
                        + " Ho tloha jwale o tla arajwa ka Sesotho. Romela ? bakeng sa thuso.");
        assertThat(language("w3")).isEqualTo("st");
        assertThat(farm.text("Lerato", "isiZulu")).startsWith("Kusukela manje");
        assertThat(farm.text("Lerato", "khiya 4 5 10")).isEqualTo("Umugqa 4: 5 zikhiyiwe, 26 Nov. Amaduna 10 ku-10.");
    }

    @Test
    void aTextDeliveredTwiceIsAnsweredTheSame() {
        String sid = TestFarm.newSid();
        String answer = farm.at(EVENING).text("Ruth", "taal zu", sid);
        farm.text("Ruth", "lang en");

        assertThat(farm.text("Ruth", "taal zu", sid)).isEqualTo(answer).startsWith("Kusukela manje");
        assertThat(language("w8")).isEqualTo("en");
    }

    @Test
    void anUnknownLanguageChangesNothingAndIsAnsweredWithThoseThereAre() {
        assertThat(farm.at(EVENING).text("Nomsa", "lang klingon"))
                .isEqualTo("Languages: af Afrikaans, en English, es español, nso English, st Sesotho, zu isiZulu."
                        + " Send: lang en");
        assertThat(language("w1")).isEqualTo("en");
    }

    @Test
    void aFarmsOwnLanguageIsThereWithoutCode() {
        assertThat(farm.at(EVENING).text("+15555550104", "sepedi")).startsWith("Sepedi");
        assertThat(language("w4")).isEqualTo("nso");
        assertThat(farm.text("+15555550104", "english")).startsWith("You are answered in English");
    }

    @Test
    void aLanguageThatIsNotThereIsEnglish() {
        farm.bean(People.class).setLanguage(worker("w5"), "tlh");

        assertThat(farm.at(EVENING).text("+15555550105", "1 5 5 10"))
                .isEqualTo("Row 5: 5 pegged for 26 Nov. Males 10 of 10.");
    }

    @Test
    void aStrangerIsAnsweredInEnglish() {
        assertThat(farm.at(EVENING).text("+15555550199", "lang es")).startsWith("This number is not on the crew list");
    }
}
