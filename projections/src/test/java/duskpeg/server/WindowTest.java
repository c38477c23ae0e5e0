package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The morning's window, over HTTP. */
class WindowTest {

    private static final String EVENING = "2026-11-25T17:10:00+02:00";

    private static TestFarm farm;

    @BeforeAll
    static void start() {
        farm = new TestFarm(Engine.H2).at(EVENING);
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    @Test
    void isOfTheFarmsOwnPlaceAndTheBoardsMorning() {
        JsonNode window = farm.json("/api/window");

        assertThat(window.get("date").asText()).isEqualTo("2026-11-26");
        assertThat(window.get("target").asText()).isEqualTo("2026-11-26T09:00:00+02:00");
        assertThat(window.get("limit").asText()).isEqualTo("2026-11-26T10:00:00+02:00");
        OffsetDateTime sunrise = OffsetDateTime.parse(window.get("sunrise").asText());
        assertThat(sunrise).isBetween("2026-11-26T05:00:00+02:00", "2026-11-26T05:15:00+02:00");
        assertThat(OffsetDateTime.parse(window.get("civilDawn").asText())).isBefore(sunrise);
        assertThat(window.get("openings").findValuesAsText("species"))
                .containsExactly("Cucurbita pepo", "Cucurbita maxima", "Cucurbita moschata");
        assertThat(window.get("note").asText()).contains("look at the flower");
    }

    @Test
    void isOfAnyPlace() {
        // Calculated independently of this project by the NOAA method: 05:29.0, UTC-4, 21 June 2025.
        JsonNode window =
                farm.json("/api/window?date=2025-06-21&lat=42.444&lon=-76.5019&zone=America/New_York&species=pepo");

        assertThat(OffsetDateTime.parse(window.get("sunrise").asText()))
                .isCloseTo(OffsetDateTime.parse("2025-06-21T05:29:00-04:00"), within(1, ChronoUnit.MINUTES));
        assertThat(window.get("opens")).isEqualTo(window.get("sunrise"));
        assertThat(window.get("limit").asText()).isEqualTo("2025-06-21T10:00:00-04:00");
    }

    @Test
    void whereTheSunDoesNotRiseThereIsNone() {
        JsonNode window = farm.json("/api/window?date=2025-06-21&lat=69.6492&lon=18.9553&zone=Europe/Oslo");

        assertThat(window.get("sunrise").isNull()).isTrue();
        assertThat(window.get("civilDawn").isNull()).isTrue();
        assertThat(window.get("opens").isNull()).isTrue();
        assertThat(window.get("limit").asText()).isEqualTo("2025-06-21T10:00:00+02:00");
        assertThat(window.get("note").asText()).startsWith("There is no sunrise");
    }

    @Test
    void warnsOfTemperatures() {
        assertThat(farm.json("/api/window").get("warnings")).isEmpty();
        assertThat(farm.json("/api/window?dawnTemp=7.5&highTemp=34").get("warnings"))
                .hasSize(2);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "date=tomorrow",
                "date=2026-02-30",
                "date=%2B999999999-12-31",
                "date=",
                "lat=1",
                "lon=1",
                "lat=91&lon=0",
                "lat=NaN&lon=0",
                "lat=x&lon=0",
                "zone=Mars/Base",
                "species=melo",
                "dawnTemp=warm",
                "highTemp=451",
                "highTemp=NaN"
            })
    void badInputIsAProblem(String query) {
        HttpResponse<String> answer = farm.get("/api/window?" + query);

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(answer.headers().firstValue("Content-Type")).hasValue("application/problem+json");
        assertThat(answer.body()).contains("\"detail\":\"").doesNotContain("Bad Request\",\"instance");
    }

    @ParameterizedTest
    @CsvSource({
        "/api/board?morning=x, 'morning is a day, written like 2026-01-15.'",
        "/api/fruit/004711/verdict?at=07:30, 'at is a time, written like 2026-01-15T07:30:00+02:00.'",
        "/api/ledger/consistency?from=a&to=1, from is a whole number.",
    })
    void whatCantBeReadIsNamed(String path, String why) {
        assertThat(farm.get(path).body()).contains("\"detail\":\"" + why + "\"");
    }

    @Test
    void aPageSaysItToo() {
        HttpResponse<String> answer = farm.get("/board?morning=x");

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(answer.body()).contains("morning is a day, written like 2026-01-15.");
    }

    @Test
    void standsAboveTheBoard() {
        assertThat(farm.get("/board").body())
                .containsPattern("sunrise 05:0\\d · opens about 04:3\\d to 05:0\\d · target 09:00 · limit 10:00");
    }

    @Test
    void aFarmFileWithoutAPlaceIsReadAndSaysSo(@TempDir Path folder) throws IOException {
        Path file = folder.resolve("farm.json");
        Files.writeString(
                file,
                "{\"farm\": \"valley\", \"zone\": \"Europe/Oslo\", \"target\": \"09:00\", \"limit\": \"10:00\","
                        + " \"tieWidth\": 6, \"plantings\": [], \"workers\": []}");
        try (TestFarm valley = new TestFarm(Engine.H2, "--duskpeg.farm-file=file:" + file)) {
            JsonNode window = valley.at(EVENING).json("/api/window");

            assertThat(window.get("sunrise").isNull()).isTrue();
            assertThat(window.get("place").isNull()).isTrue();
            assertThat(window.get("note").asText()).startsWith("Place not set");
            assertThat(valley.get("/board").body()).contains("place not set · target 09:00 · limit 10:00");
        }
    }
}
