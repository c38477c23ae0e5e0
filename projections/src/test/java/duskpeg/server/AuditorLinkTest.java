package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.projections.audit.VerifyCommand;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** An auditor's link opens what it is for, while it is open, and every look is noted. */
class AuditorLinkTest {

    private static final Pattern TOKEN = Pattern.compile("/auditor/([0-9a-f]{32})<");
    private static final Pattern ADDRESS = Pattern.compile("(?:href|src|action)=\"([^\"]*)\"");
    private static final String MADE = "2027-03-01T10:00:00+02:00";

    /** What each link answers to each path; all else of the server is as it is. */
    private static final Map<String, List<Integer>> EXPECTED = Map.ofEntries(
            // fruit 4700, lot AS-27, lot AS-27B, season 2026, season 2025
            Map.entry("", List.of(200, 200, 200, 200, 200)),
            Map.entry("/checkpoint", List.of(200, 200, 200, 200, 200)),
            Map.entry("/fruit/4700", List.of(200, 200, 200, 200, 404)),
            Map.entry("/fruit/004700/bundle", List.of(200, 200, 200, 200, 404)),
            Map.entry("/fruit/4703", List.of(404, 404, 404, 200, 404)),
            Map.entry("/fruit/4703/bundle", List.of(404, 404, 404, 200, 404)),
            Map.entry("/fruit/4706", List.of(404, 404, 404, 200, 404)),
            Map.entry("/fruit/4999", List.of(404, 404, 404, 404, 404)),
            Map.entry("/lot/AS-27", List.of(404, 200, 200, 200, 404)),
            Map.entry("/lot/as-27/bundle", List.of(404, 200, 200, 200, 404)),
            Map.entry("/lot/AS-27B", List.of(404, 404, 200, 200, 404)),
            Map.entry("/lot/GC-27", List.of(404, 404, 404, 200, 404)),
            Map.entry("/lot/GC-27/bundle", List.of(404, 404, 404, 200, 404)),
            Map.entry("/lot/NOTHING", List.of(404, 404, 404, 404, 404)),
            Map.entry("/people", List.of(404, 404, 404, 404, 404)),
            Map.entry("/fruit/4700/words", List.of(404, 404, 404, 404, 404)));

    @TempDir
    Path folder;

    private static TestFarm aSeason(Engine engine) {
        TestFarm farm = new TestFarm(engine);
        farm.at("2026-11-25T17:00:00+02:00").text("Pieter", "1 12 14 m 28");
        farm.text("Pieter", "1 3 4 m 8");
        farm.at("2026-11-26T07:00:00+02:00").text("Nomsa", "2345 12 6");
        farm.text("Nomsa", "2345 3 2");
        farm.at("2027-01-25T09:00:00+02:00");
        for (String tie : new String[] {"4700", "4701", "4702", "4703", "4706"}) {
            farm.text("Lerato", "7 " + tie);
        }
        farm.at(MADE);
        farm.awaitProjections();
        post(farm, "/lots", "lot", "AS-27", "cultivar", "Amber Spindle");
        post(farm, "/lots", "lot", "AS-27B", "cultivar", "Amber Spindle");
        post(farm, "/lots", "lot", "GC-27", "cultivar", "Greycap Nine");
        post(farm, "/lot/AS-27/take", "ties", "4700-4702");
        post(farm, "/lot/GC-27/take", "ties", "4706", "although", "yes");
        post(farm, "/lot/AS-27/weigh", "grams", "400");
        post(farm, "/lot/AS-27/draw", "to", "AS-27B", "grams", "100");
        post(farm, "/lot/AS-27/grow", "test", "1", "plants", "400", "offTypes", "1", "fruit", "3");
        post(farm, "/lot/AS-27B/pack", "first", "1", "last", "10", "grams", "10");
        return farm;
    }

    private static void post(TestFarm farm, String path, String... fields) {
        assertThat(send(farm, path, fields).statusCode()).as(path).isEqualTo(302);
    }

    private static HttpResponse<String> send(TestFarm farm, String path, String... fields) {
        Map<String, String> form = new HashMap<>(Map.of("by", "w8"));
        for (int i = 0; i < fields.length; i += 2) {
            form.put(fields[i], fields[i + 1]);
        }
        return farm.post(path, form);
    }

    private static String link(TestFarm farm, String scope, String about) {
        HttpResponse<String> made =
                send(farm, "/auditors", "scope", scope, "about", about, "days", "30", "whom", "the seed board");
        assertThat(made.statusCode()).as(made.body()).isEqualTo(200);
        assertThat(made.headers().firstValue("Cache-Control")).contains("no-store");
        Matcher token = TOKEN.matcher(made.body());
        assertThat(token.find()).as(made.body()).isTrue();
        return "/auditor/" + token.group(1);
    }

    @ParameterizedTest
    @EnumSource
    void aLinkOpensWhatItIsForAndNothingElse(Engine engine) {
        try (TestFarm farm = aSeason(engine)) {
            List<String> links = List.of(
                    link(farm, "fruit", "4700"),
                    link(farm, "lot", "as-27"),
                    link(farm, "lot", "AS-27B"),
                    link(farm, "season", "2026"),
                    link(farm, "season", "2025"));
            String nothing = farm.get("/auditor/" + "0".repeat(32)).body();

            EXPECTED.forEach((path, statuses) -> {
                for (int i = 0; i < links.size(); i++) {
                    HttpResponse<String> answer = farm.get(links.get(i) + path);
                    assertThat(answer.statusCode()).as(i + path).isEqualTo(statuses.get(i));
                    isForNobodyElse(answer);
                    if (answer.statusCode() == 404) {
                        assertThat(answer.body()).as(path).isEqualTo(nothing);
                    } else if (!path.endsWith("bundle") && !path.endsWith("checkpoint")) {
                        showsNoMoreThanItMay(answer.body(), links.get(i));
                    }
                }
            });
            assertThat(farm.get(links.get(0)).body())
                    .contains("Verdict: <b>pure</b>", "Pegged the evening before", "w1");
            assertThat(farm.get(links.get(1)).body())
                    .contains("3 flowers", "Grow-out 1, not confirmed by a second person", "AS-27B.1 to .10");
            assertThat(farm.get(links.get(2)).body()).contains("Drawn from lots:");
            assertThat(farm.get(links.get(3)).body()).contains("AS-27", "AS-27B", "GC-27", "8 fruit");
            assertThat(farm.get(links.get(4)).body()).contains("There are none yet");
        }
    }

    private static void isForNobodyElse(HttpResponse<String> answer) {
        assertThat(answer.headers().firstValue("Referrer-Policy")).contains("no-referrer");
        assertThat(answer.headers().firstValue("Cache-Control")).contains("no-store");
        assertThat(answer.headers().firstValue("X-Robots-Tag")).contains("noindex, nofollow");
    }

    private static void showsNoMoreThanItMay(String page, String link) {
        TestFarm.PHONES.keySet().forEach(name -> assertThat(page).doesNotContain(name));
        assertThat(page)
                .doesNotContain("<form", "<nav", "<script", "2345 12 6", "5555550")
                .contains("noindex");
        assertThat(ADDRESS.matcher(page).results().map(found -> found.group(1)))
                .allMatch(to -> to.startsWith(link)
                        || List.of("/icon.svg", "/duskpeg.css").contains(to));
    }

    @ParameterizedTest
    @EnumSource
    void itEndsAndEveryLookIsNoted(Engine engine) {
        try (TestFarm farm = aSeason(engine)) {
            String link = link(farm, "fruit", "4700");
            String other = link(farm, "lot", "GC-27");
            assertThat(farm.get(link).statusCode()).isEqualTo(200);
            assertThat(farm.get(link + "/fruit/4701").statusCode()).isEqualTo(404);
            assertThat(farm.get(link + "/x" + "y".repeat(500)).statusCode()).isEqualTo(404);
            assertThat(farm.at("2027-03-31T09:59:59+02:00")
                            .get(link + "/checkpoint")
                            .statusCode())
                    .isEqualTo(200);
            HttpResponse<String> ended = farm.at("2027-03-31T10:00:00+02:00").get(link);
            assertThat(ended.statusCode()).isEqualTo(410);
            isForNobodyElse(ended);
            assertThat(ended.body()).contains("no longer open").doesNotContain("4700", "fruit");
            assertThat(farm.get(link + "/fruit/4701").statusCode()).isEqualTo(410);
            assertThat(farm.at(MADE).get("/auditors").body()).contains("the seed board", "6 looks", "0 looks");

            assertThat(send(farm, "/auditors/2/withdraw", "by", "w1").statusCode())
                    .isEqualTo(422);
            assertThat(farm.get(other).statusCode()).isEqualTo(200);
            post(farm, "/auditors/2/withdraw");
            assertThat(farm.get(other).statusCode()).isEqualTo(410);

            assertThat(farm.bean(JdbcClient.class)
                            .sql("select link, path, outcome from auditor_look order by look")
                            .query((row, number) -> row.getLong(1) + " " + row.getString(2) + " " + row.getString(3))
                            .list())
                    .containsExactly(
                            "1  shown",
                            "1 /fruit/4701 outside",
                            "1 /x" + "y".repeat(58) + " outside",
                            "1 /checkpoint shown",
                            "1  expired",
                            "1 /fruit/4701 expired",
                            "2  shown",
                            "2  withdrawn");
            assertThat(farm.bean(JdbcClient.class)
                            .sql("select count(*) from auditor_link where token like ?")
                            .param("%" + link.substring("/auditor/".length()) + "%")
                            .query(Integer.class)
                            .single())
                    .isZero();
        }
    }

    @Test
    void whatIsNoTokenOpensNothing() {
        try (TestFarm farm = aSeason(Engine.H2)) {
            String link = link(farm, "season", "2026");
            String token = link.substring("/auditor/".length());
            for (String wrong : List.of(
                    "0".repeat(32),
                    token.substring(1),
                    token + "0",
                    token.substring(0, 31) + (token.endsWith("0") ? "1" : "0"),
                    "'%20or%201=1",
                    "2026")) {
                HttpResponse<String> answer = farm.get("/auditor/" + wrong);
                assertThat(answer.statusCode()).as(wrong).isEqualTo(404);
                assertThat(answer.body()).as(wrong).contains("This link opens nothing");
                isForNobodyElse(answer);
            }
            assertThat(farm.bean(JdbcClient.class)
                            .sql("select count(*) from auditor_look")
                            .query(Integer.class)
                            .single())
                    .isZero();
        }
    }

    @Test
    void theProofOfALotHolds() throws IOException {
        try (TestFarm farm = aSeason(Engine.H2)) {
            String link = link(farm, "lot", "AS-27B");
            Path bundle = folder.resolve("bundle.zip");
            Files.write(bundle, farm.download(link + "/lot/AS-27B/bundle"));
            Path kept = Files.write(folder.resolve("kept.txt"), farm.download(link + "/checkpoint"));
            ByteArrayOutputStream printed = new ByteArrayOutputStream();
            assertThat(VerifyCommand.run(
                            List.of(bundle.toString(), "--checkpoint", kept.toString()),
                            new PrintStream(printed, true, StandardCharsets.UTF_8)))
                    .as(printed.toString(StandardCharsets.UTF_8))
                    .isIn(0, 2);
            assertThat(printed.toString(StandardCharsets.UTF_8))
                    .contains("004700", "004701", "004702")
                    .doesNotContain("FAILS");
            assertThat(farm.get(link + "/lot/AS-27B/bundle?since=99999").statusCode())
                    .isEqualTo(400);
            assertThat(farm.get(link + "/lot/AS-27B/bundle?since=x").statusCode())
                    .isEqualTo(400);
        }
    }

    @Test
    void whatIsWrongWithALinkIsSaid() {
        try (TestFarm farm = aSeason(Engine.H2)) {
            refused(farm, "choose the supervisor", "by", "w1");
            refused(farm, "choose what it opens", "scope", "farm");
            refused(farm, "no report tells", "about", "4999");
            refused(farm, "no report tells", "about", "x");
            refused(farm, "no such lot", "scope", "lot");
            refused(farm, "a season is the year", "scope", "season", "about", "26");
            refused(farm, "1 to 365 days", "days", "0");
            refused(farm, "1 to 365 days", "days", "366");
            refused(farm, "1 to 365 days", "days", "soon");
            refused(farm, "say for whom", "whom", " ");
            assertThat(farm.get("/auditors").body()).contains("None.");
        }
    }

    private static void refused(TestFarm farm, String because, String... fields) {
        Map<String, String> form =
                new HashMap<>(Map.of("scope", "fruit", "about", "4700", "days", "30", "whom", "a buyer", "by", "w8"));
        for (int i = 0; i < fields.length; i += 2) {
            form.put(fields[i], fields[i + 1]);
        }
        HttpResponse<String> answer = farm.post("/auditors", form);
        assertThat(answer.statusCode()).isEqualTo(422);
        assertThat(answer.body()).contains("No link was made", because);
    }
}
