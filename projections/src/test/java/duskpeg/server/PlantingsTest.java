package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** Plantings, what is near them, and the figures that is held against. */
@OnBothEngines
class PlantingsTest {

    private static HttpResponse<String> post(TestFarm farm, String path, String... fields) {
        Map<String, String> form = new HashMap<>(Map.of("by", "w8"));
        for (int i = 0; i < fields.length; i += 2) {
            form.put(fields[i], fields[i + 1]);
        }
        return farm.post(path, form);
    }

    @Test
    void whatIsTooNearIsSaid() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            assertThat(farm.json("/api/plantings").get("near").toString()).contains("\"beware\"");
            assertThat(post(farm, "/figures/choose", "isolation", "handbook/usual")
                            .statusCode())
                    .isEqualTo(302);
            String near = farm.json("/api/plantings").get("near").toString();
            assertThat(near)
                    .contains("Behind the shed is 60 m from Long strip; they cross freely")
                    .contains("\"too-near\"");
            // Half a mile is what seed-saving handbooks say; the farm may go by less.
            assertThat(post(
                                    farm,
                                    "/figures/change",
                                    "figure",
                                    "isolation/handbook/usual",
                                    "value",
                                    "50",
                                    "source",
                                    "our buyer",
                                    "edition",
                                    "2026")
                            .statusCode())
                    .isEqualTo(302);
            assertThat(farm.json("/api/plantings").get("near").toString())
                    .doesNotContain("\"too-near\"")
                    .contains("shipped: 805 metres");
            assertThat(farm.get("/figures").body()).contains("our buyer").contains("shipped: 805");
            assertThat(farm.get("/plantings").body()).contains("Gardens at the crossroads");

            assertThat(post(farm, "/plantings/near", "planting", "Dam side", "name", "A field", "metres", "x")
                            .body())
                    .contains("metres are a whole number");
            assertThat(post(farm, "/plantings/near", "planting", "Dam side", "name", "A field", "metres", "30")
                            .body())
                    .contains("choose its species");
            assertThat(post(
                                    farm,
                                    "/plantings/near",
                                    "planting",
                                    "Dam side",
                                    "name",
                                    "A field",
                                    "metres",
                                    "30",
                                    "species",
                                    "MAXIMA")
                            .statusCode())
                    .isEqualTo(302);
            assertThat(farm.json("/api/plantings").get("near").toString()).contains("A field is 30 m");
        }
    }

    @Test
    void aPlanIsTakenWholeOrNotAtAll() {
        String header = "planting,cultivar,species,first row,last row,plants per row,stock\n";
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            HttpResponse<String> refused = post(
                    farm,
                    "/plantings/plan",
                    "csv",
                    header + "North,Greycap Nine,maxima,30,31,40,GC9-25\nSouth,Nightjar,acorn,32,32,30,\n");
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body()).contains("line 3: ").contains("acorn");
            assertThat(farm.get("/api/plantings").body()).doesNotContain("North");

            assertThat(post(farm, "/plantings/plan", "csv", header + "North,Greycap Nine,maxima,30,31,40,GC9-25\n")
                            .statusCode())
                    .isEqualTo(302);
            assertThat(farm.json("/api/plantings").get("plantings").toString())
                    .contains("\"planting\":\"North\"")
                    .contains("\"stock\":\"GC9-25\"");
            // Rows of it can be reported from at once.
            assertThat(farm.text("Pieter", "1 30 5 m 10")).contains("Row 30");
        }
    }

    @Test
    void figuresThatDoNotFitAreRefused() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            assertThat(post(
                                    farm,
                                    "/figures/change",
                                    "figure",
                                    "germination-minimum/us/squash",
                                    "value",
                                    "lots",
                                    "source",
                                    "x",
                                    "edition",
                                    "y")
                            .statusCode())
                    .isEqualTo(422);
            assertThat(post(farm, "/figures/choose", "germination", "us/marrow").statusCode())
                    .isEqualTo(422);
            HttpResponse<String> file = post(
                    farm,
                    "/figures/file",
                    "csv",
                    "table,key,value,source,edition\ngermination-minimum,us/squash,85,own,1\nnone,x,1,own,1\n");
            assertThat(file.statusCode()).isEqualTo(422);
            assertThat(file.body()).contains("line 3: ");
            assertThat(farm.json("/api/figures").toString()).doesNotContain("ownSource");
            assertThat(post(
                                    farm,
                                    "/figures/file",
                                    "csv",
                                    "table,key,value,source,edition\ngermination-minimum,us/squash,85,own,1\n")
                            .statusCode())
                    .isEqualTo(302);
            assertThat(farm.json("/api/figures").toString()).contains("\"ownSource\":\"own\"");
        }
    }
}
