package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.HashMap;
import java.util.Map;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;

/** Named plants, from the evening's advice to a balanced bulk. */
@OnBothEngines
class LineageTest {

    private static void post(TestFarm farm, String path, String... fields) {
        Map<String, String> form = new HashMap<>(Map.of("by", "w8"));
        for (int i = 0; i < fields.length; i += 2) {
            form.put(fields[i], fields[i + 1]);
        }
        assertThat(farm.post(path, form).statusCode()).as(path).isEqualTo(302);
    }

    @Test
    void aFemaleGetsMalesOfTwoOtherPlants() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            farm.at("2026-11-25T17:00:00+02:00");
            farm.text("Pieter", "1 12.7 1 2 from 13.4");
            farm.text("Pieter", "1 13.4 1 2 from 12.7");
            farm.text("Lerato", "1 14.2 1 2 from 14.9");
            farm.text("Lerato", "1 12 5 10");
            farm.awaitProjections();
            JsonNode advice = farm.json("/api/pairing?morning=2026-11-26");
            assertThat(advice.get("unnamed").asInt()).isEqualTo(5);
            JsonNode of = advice.get("cultivars").get(0);
            assertThat(of.get("cultivar").asText()).isEqualTo("Amber Spindle");
            assertThat(of.get("pairs")).hasSize(3);
            for (JsonNode pair : of.get("pairs")) {
                assertThat(pair.get("one").asText())
                        .isNotEqualTo(pair.get("other").asText());
                assertThat(pair.get("female").asText())
                        .isNotEqualTo(pair.get("one").asText())
                        .isNotEqualTo(pair.get("other").asText());
            }
            assertThat(farm.get("/pairing?morning=2026-11-26").body()).contains("14.9");
            assertThat(farm.get("/plan?morning=2026-11-26").body())
                    .contains("Two males of two other plants each")
                    .contains("Females whose plant nobody named: 5")
                    .contains(">14.9<");
            assertThat(farm.get("/plan?morning=2026-12-26").body()).doesNotContain("Two males of two other");
            assertThat(farm.get("/pairing?morning=2026-12-26").body()).contains("No plants were named");
            assertThat(farm.get("/pairing?morning=never").statusCode()).isEqualTo(400);
        }
    }

    /** Dams that give 60 and 30 g where 60 are wanted: 30 each, so 2 dams instead of 1 / (4/9 + 1/9) = 1.8. */
    @Test
    void aBulkTakesAsMuchOfEach() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            farm.at("2026-11-25T17:00:00+02:00").text("Pieter", "1 12 2 m 4");
            farm.at("2026-11-26T07:00:00+02:00").text("Nomsa", "2345 12.7 1 from 13.4 14.2");
            farm.text("Nomsa", "2345 12.9 1 from 13.5 14.3");
            farm.at("2027-01-25T09:00:00+02:00").text("Lerato", "7 4700");
            farm.text("Lerato", "7 4701");
            farm.awaitProjections();
            for (String[] one : new String[][] {{"AS-1", "4700", "60"}, {"AS-2", "4701", "30"}}) {
                post(farm, "/lots", "lot", one[0], "cultivar", "Amber Spindle");
                post(farm, "/lot/" + one[0] + "/take", "ties", one[1], "although", "yes");
                post(farm, "/lot/" + one[0] + "/weigh", "grams", one[2]);
            }
            JsonNode bulk = farm.json("/api/bulk?cultivar=Amber+Spindle&grams=60");
            assertThat(bulk.get("parts").findValuesAsText("grams")).containsExactly("30.0", "30.0");
            assertThat(bulk.get("proposed").get("value").asDouble())
                    .isGreaterThan(bulk.get("mixed").get("value").asDouble());
            assertThat(bulk.get("missing").asDouble()).isZero();

            post(farm, "/lots", "lot", "AS-27", "cultivar", "Amber Spindle");
            post(farm, "/bulk", "cultivar", "Amber Spindle", "grams", "60", "to", "as-27");
            JsonNode descent = farm.json("/api/lot/AS-27").get("descent");
            assertThat(descent.get("dams").asInt()).isEqualTo(2);
            assertThat(descent.get("unnamed").asInt()).isZero();
            assertThat(StreamSupport.stream(descent.get("sizes").spliterator(), false)
                            .filter(size -> size.get("formula").asText().startsWith("1 / (c1^2"))
                            .findFirst()
                            .orElseThrow()
                            .get("value")
                            .asDouble())
                    .isCloseTo(2, within(1e-9));
            // Two dams and four sires: 4 x 4 x 2 / 6.
            assertThat(descent.get("sizes").findValuesAsText("value")).contains(String.valueOf(32 / 6.0));
            assertThat(farm.json("/api/lot/AS-1").get("grams").asDouble()).isEqualTo(30);
            assertThat(farm.get("/lot/AS-27").body()).contains("How broad it is");
            assertThat(farm.get("/bulk?cultivar=Amber+Spindle&grams=10").body()).contains("AS-1");
            assertThat(farm.get("/bulk?cultivar=Amber+Spindle&grams=much").statusCode())
                    .isEqualTo(422);
            assertThat(farm.get("/api/bulk?cultivar=None&grams=10").statusCode())
                    .isEqualTo(422);
        }
    }
}
