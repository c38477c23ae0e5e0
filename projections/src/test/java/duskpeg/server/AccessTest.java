package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/**
 * Every endpoint that there is, asked for by everybody there is, over HTTP. What is expected is written down here once
 * more and apart from the table in the code: who adds an endpoint must say in both places who may ask for it.
 */
class AccessTest {

    private static final Set<String> ANYBODY = Set.of(
            "GET /signin",
            "POST /signin",
            "GET /first",
            "POST /first",
            "GET /password",
            "POST /password",
            "GET /error",
            "POST /error",
            "POST /field/text",
            "POST /field/voice",
            "POST /field/status",
            "GET /field/voice/recordings/{language}/{file}",
            "POST /witness/add-checkpoint",
            "GET /witness/key",
            "GET /health",
            "GET /metrics",
            "GET /auditor/{token}/{*path}");

    private static final Set<String> ALL = Set.of(
            "GET /",
            "GET /api",
            "POST /signout",
            "GET /sessions",
            "POST /sessions/end",
            "GET /second",
            "POST /second/begin",
            "POST /second/confirm",
            "POST /second/codes",
            "POST /second/end",
            "POST /confirm");

    private static final Set<String> WORKER = Set.of(
            "GET /board",
            "GET /board/live",
            "GET /board/stream",
            "GET /board/mornings",
            "GET /api/board",
            "GET /api/board/stream",
            "GET /api/forecast",
            "GET /api/window");

    private static final Set<String> AUDITOR = Set.of(
            "GET /fruit",
            "GET /fruit/{tie}",
            "GET /fruit/{tie}/certificate.pdf",
            "GET /fruit/{tie}/history.pdf",
            "GET /fruit/{tie}/epcis.json",
            "GET /api/fruit",
            "GET /api/fruit/{tie}",
            "GET /api/fruit/{tie}/verdict",
            "GET /row/{row}/{morning}",
            "GET /api/row/{row}/{morning}",
            "GET /find",
            "GET /lots",
            "GET /lot/{lot}",
            "GET /api/lots",
            "GET /api/lot/{lot}",
            "GET /season",
            "GET /api/season",
            "GET /api/season.csv",
            "GET /reckon",
            "GET /api/reckon",
            "GET /trace",
            "GET /api/trace",
            "GET /api/ledger/key",
            "GET /api/ledger/checkpoint",
            "GET /api/ledger/event/{id}",
            "GET /api/ledger/consistency",
            "GET /api/audit/bundle",
            "GET /export",
            "GET /api/export/events.jsonl",
            "GET /api/export/{table}.csv",
            "GET /api/export/epcis.jsonld");

    private static SignInFarm farm;

    @BeforeAll
    static void open() {
        farm = new SignInFarm(Engine.H2).withAccounts();
    }

    @AfterAll
    static void close() {
        farm.close();
    }

    private static Set<String> endpoints(TestFarm server) {
        Set<String> all = new TreeSet<>();
        server.bean(RequestMappingHandlerMapping.class)
                .getHandlerMethods()
                .keySet()
                .forEach(mapping -> mapping.getPatternValues().forEach(pattern -> {
                    Set<?> methods = mapping.getMethodsCondition().getMethods();
                    (methods.isEmpty() ? Set.of("GET", "POST") : methods)
                            .forEach(method -> all.add(method + " " + pattern));
                }));
        return all;
    }

    private static boolean may(String role, String endpoint) {
        if (ANYBODY.contains(endpoint)) {
            return true;
        }
        return switch (role) {
            case "" -> false;
            case "worker" -> ALL.contains(endpoint) || WORKER.contains(endpoint);
            case "auditor" -> ALL.contains(endpoint) || AUDITOR.contains(endpoint);
            case "supervisor" -> !endpoint.contains(" /accounts") && !endpoint.equals("POST /operations/rebuild");
            case "owner" -> true;
            default -> throw new AssertionError(role);
        };
    }

    private static String filled(String pattern) {
        return pattern.replace("{morning}", "2026-11-26")
                .replace("{*path}", "")
                .replaceAll("/$", pattern.equals("/") ? "/" : "")
                .replaceAll("\\{[^}]+\\}", "1");
    }

    @Test
    void everyEndpointAnswersWhomItMayAndNobodyElse() {
        Map<String, String> cookies = new TreeMap<>();
        cookies.put("", "");
        SignInFarm.ROLES.keySet().forEach(role -> cookies.put(role, farm.signIn(role)));
        List<String> wrong = new ArrayList<>();
        int asked = 0;
        for (String endpoint : endpoints(farm.farm)) {
            String[] parts = endpoint.split(" ");
            if (endpoint.equals("POST /signout") || endpoint.startsWith("POST /accounts/{id}")) {
                continue; // It would end what the others need: see the next test.
            }
            for (Map.Entry<String, String> who : cookies.entrySet()) {
                String path = filled(parts[1]);
                int status = farm.head(who.getValue(), parts[0], path, "application/json")
                        .statusCode();
                asked++;
                boolean refused = status == 401 || status == 403;
                if (refused == may(who.getKey(), endpoint)) {
                    wrong.add(who.getKey() + " asks for " + endpoint + ": " + status);
                }
                if (refused && (status == 401) != who.getKey().isEmpty()) {
                    wrong.add(who.getKey() + " is told " + status + " for " + endpoint);
                }
            }
        }
        assertThat(wrong).isEmpty();
        assertThat(asked).isGreaterThan(400);
    }

    @Test
    void ownersAloneChangeAccounts() {
        for (String role : List.of("worker", "supervisor", "auditor")) {
            String cookie = farm.signIn(role);
            for (String what : List.of("code", "disable", "enable", "worker", "second")) {
                assertThat(farm.post(cookie, "/accounts/1/" + what, Map.of()).statusCode())
                        .as(role + " " + what)
                        .isEqualTo(403);
            }
        }
        assertThat(farm.post("", "/accounts/1/disable", Map.of()).statusCode()).isEqualTo(401);
        assertThat(farm.post("", "/signout", Map.of()).statusCode()).isEqualTo(401);
    }

    @Test
    void everyEndpointStandsInTheTableAndNothingElseDoes() {
        Set<String> there = endpoints(farm.farm);
        try (TestFarm demo = new TestFarm(Engine.H2)) {
            there.addAll(endpoints(demo));
        }
        Set<String> files = Set.of(
                "GET /duskpeg.css",
                "GET /print.css",
                "GET /icon.svg",
                "GET /*.js",
                "GET /webjars/**",
                "GET /card/**",
                "GET /openapi.json");
        Set<String> table = duskpeg.projections.signin.AccessLines.all();
        Set<String> tableOfEndpoints = new TreeSet<>(table);
        tableOfEndpoints.removeAll(files);
        assertThat(tableOfEndpoints).isEqualTo(there);
    }

    @Test
    void whatIsInNoLineIsRefusedToEverybody() {
        assertThat(farm.get(farm.signIn("owner"), "/no-such-page").statusCode()).isEqualTo(403);
        assertThat(farm.get("", "/no-such-page").statusCode()).isEqualTo(401);
    }

    @Test
    void noDetourLeadsPastTheTable() {
        for (String path : List.of(
                "/field/../people",
                "/field/%2e%2e/people",
                "/field/text/../../people",
                "/witness/..;/people",
                "//people",
                "/people/",
                "/people;a=b",
                "/People",
                "/people%2f",
                "/%70eople",
                "/api/people.json",
                "/field%2f..%2fpeople")) {
            assertThat(farm.head("", "GET", path, "application/json").statusCode())
                    .as(path)
                    .isIn(400, 401, 403, 404);
        }
    }
}
