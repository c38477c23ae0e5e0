package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Earlier mornings, and boards as they were known at a time. */
class PlayedBackTest {

    private static final String MORNING = "2026-11-26";

    private static TestFarm farm;

    @BeforeAll
    static void start() {
        farm = new TestFarm(Engine.H2);
        farm.at("2026-11-24T17:10:00+02:00").text("Nomsa", "1 3 4 m 8");
        farm.at("2026-11-25T10:20:00+02:00").text("Nomsa", "2345 3 3");
        farm.at("2026-11-25T17:10:00+02:00");
        farm.text("Nomsa", "1 12 20 m 40");
        farm.text("Pieter", "1 13 10 m 18");
        farm.at("2026-11-26T06:30:00+02:00").text("Nomsa", "2345 12 5");
        farm.at("2026-11-26T06:40:00+02:00").text("Pieter", "2345 13 9");
        // Done at 06:35, and not heard before 07:20.
        farm.at("2026-11-26T07:20:00+02:00").text("Nomsa", "2345 12 6 at 0635");
        farm.at("2026-11-26T07:25:00+02:00").text("Pieter", "0");
        farm.at("2026-11-26T12:30:00+02:00");
        farm.awaitProjections();
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    private static int tied(String row, String at) {
        for (JsonNode one :
                farm.json("/api/board?morning=" + MORNING + "&at=" + at).get("rows")) {
            if (one.get("row").asText().equals(row)) {
                return one.get("tied").asInt();
            }
        }
        throw new AssertionError("no row " + row);
    }

    @Test
    void onlyWhatWasHeardUntilThenIsKnown() {
        assertThat(tied("12", "06:29")).isEqualTo(0);
        assertThat(tied("12", "06:30")).isEqualTo(5);
        assertThat(tied("12", "07:00"))
                .as("what was done by then but heard later")
                .isEqualTo(5);
        assertThat(tied("12", "07:20")).isEqualTo(11);
        assertThat(tied("13", "07:24")).as("before it was taken back").isEqualTo(9);
        assertThat(tied("13", "07:25")).isEqualTo(0);
    }

    @Test
    void theEveningBeforeCanBeAskedForToo() {
        JsonNode board = farm.json("/api/board?morning=" + MORNING + "&at=2026-11-25T17:09");

        assertThat(board.get("now").asText()).isEqualTo("2026-11-25T17:09:00+02:00");
        assertThat(board.get("rows").findValues("pegged")).allMatch(pegged -> pegged.asInt() == 0);
    }

    @Test
    void theForecastIsOfThenToo() {
        JsonNode forecast = farm.json("/api/forecast?morning=" + MORNING + "&at=06:45");

        assertThat(forecast.get("now").asText()).isEqualTo("2026-11-26T06:45:00+02:00");
        assertThat(forecast.get("reports").asInt()).isEqualTo(2);
    }

    @Test
    void thePageSaysSoAndIsNotLive() {
        String page = farm.get("/board?morning=" + MORNING + "&at=06:45").body();

        assertThat(page).contains("As known at", "06:45", "Played back, not live");
        assertThat(page).doesNotContain("sse-connect", "Whom to move?");
        assertThat(page).contains("By 06:45, 14 of 30 flowers were tied. At the limit, 10:00, about");
    }

    @Test
    void whatIsStillToComeIsShownLive() {
        String page = farm.at("2026-11-26T07:00:00+02:00")
                .get("/board?morning=" + MORNING + "&at=08:00")
                .body();
        farm.at("2026-11-26T12:30:00+02:00");

        assertThat(page).contains("sse-connect").doesNotContain("As known at <");
    }

    @ParameterizedTest
    @ValueSource(strings = {"soon", "25:00", "2020-01-01T07:00", "-999999999-01-01T00:00", "07:30:00.5Z"})
    void whatIsNoTimeIsRefused(String at) {
        assertThat(farm.get("/board?morning=" + MORNING + "&at=" + at).statusCode())
                .isEqualTo(400);
        assertThat(farm.get("/api/board?morning=" + MORNING + "&at=" + at).statusCode())
                .isEqualTo(400);
    }

    @Test
    void morningsWithSomethingOnThemAreListedAndLeadToEachOther() {
        String list = farm.get("/board/mornings").body();

        assertThat(list).contains("Thu 26 Nov 2026", "Wed 25 Nov 2026", "3, 3 late", "10:20");
        assertThat(list).doesNotContain("Tue 24 Nov");
        assertThat(farm.get("/board/mornings?before=2026-11-25").body()).contains("Nothing was reported");
        assertThat(farm.get("/board?morning=2026-11-25").body())
                .contains("rel=\"next\" href=\"/board?farm=marrowfield&amp;morning=2026-11-26\"")
                .doesNotContain("rel=\"prev\"");
    }

    @Test
    void theBigScreenHasNoControls() {
        String wall = farm.get("/board?view=wall&morning=" + MORNING).body();

        assertThat(wall).contains("view=wall&amp;farm=marrowfield", "left to tie");
        assertThat(wall).doesNotContain("<button", "<input", "<nav");
    }
}
