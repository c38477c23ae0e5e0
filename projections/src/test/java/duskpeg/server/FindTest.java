package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Finding fruit by what is known of it, and its history as it was known. */
@OnBothEngines
class FindTest {

    private static TestFarm farm;

    @BeforeAll
    static void start() {
        farm = new TestFarm(Engine.asked());
        farm.at("2026-11-25T17:10:00+02:00");
        farm.text("Nomsa", "1 1 2 m 4");
        farm.text("Pieter", "1 9 2 m 4");
        farm.at("2026-11-26T06:10:00+02:00");
        farm.text("Nomsa", "2345 1 2");
        farm.at("2026-11-26T06:20:00+02:00");
        farm.text("Pieter", "2345 9 1");
        farm.at("2026-11-27T06:20:00+02:00");
        farm.text("Pieter", "2345 9 1");
        farm.at("2027-01-10T09:00:00+02:00");
        farm.text("Lerato", "7 4700");
        farm.awaitProjections();
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    @ParameterizedTest
    @CsvSource({
        "row=1, 004700 004701",
        "row=9, 004751 004750",
        "row=9&morning=2026-11-26, 004750",
        "morning=2026-11-26, 004700 004701 004750",
        "worker=w2, 004751 004750",
        "cultivar=Greycap+Nine, 004700 004701",
        "cultivar=Amber+Spindle&worker=w1, ''",
        "row=%25, ''",
        "row=24, ''"
    })
    void isFoundByAnyOfThem(String sought, String ties) {
        JsonNode found = farm.json("/api/fruit?" + sought);

        assertThat(String.join(" ", found.get("fruit").findValuesAsText("tie"))).isEqualTo(ties);
        assertThat(found.get("more").asBoolean()).isFalse();
    }

    @Test
    void thePageShowsThemWithTheirHistories() {
        assertThat(farm.get("/find").body()).contains("Find fruit").doesNotContain("id=\"found\"");
        assertThat(farm.get("/find?row=1").body()).contains("2 fruit", "/fruit/004700", "harvested", "Greycap Nine");
    }

    @Test
    void aHistoryIsShownAsItWasKnown() {
        assertThat(farm.get("/fruit/4700").body()).contains("harvested", "QR code of this page");
        assertThat(farm.get("/fruit/4700?at=2026-11-30T00:00:00%2B02:00").body())
                .contains("As it was known at", "was known then")
                .doesNotContain("<span>harvested</span>", "state-harvested");
        assertThat(farm.get("/fruit/4700?at=2026-11-20T00:00:00%2B02:00").body())
                .contains("Nothing was known of tie");
        assertThat(farm.get("/fruit/4700?at=soon").statusCode()).isEqualTo(400);
    }
}
