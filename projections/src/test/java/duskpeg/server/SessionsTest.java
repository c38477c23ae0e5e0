package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** The page of one's own sessions. */
@OnBothEngines
class SessionsTest {

    private static final Pattern OTHER = Pattern.compile("name=\"session\" value=\"([0-9a-f]{64})\"");

    private static String page(SignInFarm farm, String cookie) {
        var page = farm.get(cookie, "/sessions", "Accept", "text/html");
        assertThat(page.statusCode()).isEqualTo(200);
        return page.body();
    }

    @Test
    void onesOwnSessionsAreSeenAndEndedAndNobodyElses() {
        try (SignInFarm farm = new SignInFarm(Engine.asked()).withAccounts()) {
            String worker = farm.signIn("worker");
            String supervisor = farm.signIn("supervisor");
            farm.clock.move(Duration.ofMinutes(5));
            String phone = farm.signIn("supervisor");

            String seen = page(farm, phone);
            assertThat(seen).contains("this one", "127.0.0.0/24");
            // The session in which her password was set is one too, and is ended here as well.
            Matcher others = OTHER.matcher(page(farm, worker));
            String strangers = others.find() ? others.group(1) : "";
            Matcher own = OTHER.matcher(seen);
            int ended = 0;
            while (own.find()) {
                assertThat(own.group(1)).isNotEqualTo(strangers);
                assertThat(farm.post(phone, "/sessions/end", Map.of("session", own.group(1)))
                                .statusCode())
                        .isEqualTo(302);
                ended++;
            }
            assertThat(ended).isEqualTo(2);
            assertThat(OTHER.matcher(page(farm, phone)).find()).isFalse();
            assertThat(farm.get(supervisor, "/api/board").statusCode()).isEqualTo(401);
            assertThat(farm.get(phone, "/second", "Accept", "text/html").body()).contains("session ended");

            // Nobody else's, be the token known.
            assertThat(strangers).isNotEmpty();
            assertThat(farm.post(phone, "/sessions/end", Map.of("session", strangers))
                            .statusCode())
                    .isEqualTo(302);
            assertThat(OTHER.matcher(page(farm, worker)).find()).isTrue();
            farm.clock.move(Duration.ofHours(3));
            assertThat(farm.get(phone, "/api/board").statusCode()).isEqualTo(401);
        }
    }
}
