package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.farm.FarmId;
import duskpeg.projections.alerts.Lookout;
import duskpeg.projections.audit.CheckCommand;
import duskpeg.projections.rebuild.Rebuild;
import java.io.OutputStream;
import java.io.PrintStream;
import java.time.Duration;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The server's clock is set forwards and back by hours: nothing is lost, and the log's order is the one in which it came. */
class ClockJumpTest {

    private static final FarmId FARM = new FarmId("marrowfield");

    @ParameterizedTest
    @EnumSource
    void nothingIsLostAndTheOrderIsThatOfTheLog(Engine engine) {
        try (SignInFarm farm = new SignInFarm(engine).withAccounts()) {
            String before = farm.signIn("supervisor");
            Lookout lookout = farm.farm.bean(Lookout.class);
            Duration[] jumps = {
                Duration.ofHours(5), Duration.ofHours(-9), Duration.ofHours(30), Duration.ofHours(-26), Duration.ZERO
            };
            int text = 0;
            for (Duration jump : jumps) {
                farm.clock.move(jump);
                for (int i = 0; i < 3; i++) {
                    assertThat(farm.farm.text("Nomsa", "1 " + (++text) + " 2 m 4", "SMjump" + text))
                            .contains("Row " + text + ":");
                }
                // The lookout looks at whatever time it is, and throws nothing.
                lookout.look(FARM, farm.clock.instant());
            }
            farm.farm.awaitProjections();
            JdbcClient jdbc = farm.farm.bean(JdbcClient.class);
            String rows = "select row_label from board_act_1 order by position";
            assertThat(jdbc.sql(rows).query(Integer.class).list())
                    .hasSizeGreaterThanOrEqualTo(text)
                    .isSorted();
            // Nothing that was heard is dated anew, so times go back while positions do not.
            assertThat(jdbc.sql("select count(*) from field_text where reply is not null")
                            .query(Integer.class)
                            .single())
                    .isEqualTo(text);
            int events = events(jdbc);
            farm.farm.text("Nomsa", "1 1 2 m 4", "SMjump1");
            assertThat(events(jdbc)).isEqualTo(events);

            // Whoever was signed in is at most signed out, and can sign in again at any time.
            assertThat(farm.get(before, "/board").statusCode()).isIn(200, 401);
            for (int hours : new int[] {48, -48}) {
                farm.clock.move(Duration.ofHours(hours));
                for (int i = 0; i < 3; i++) {
                    assertThat(farm.trySignIn("auditor", "wrong").statusCode()).isEqualTo(422);
                }
                assertThat(farm.get(farm.signIn("auditor"), "/lots").statusCode())
                        .isEqualTo(200);
            }
            farm.clock.move(Duration.ofHours(48));
            for (int i = 0; i < 7; i++) {
                farm.trySignIn("owner", "wrong " + i);
            }
            // The pause after failures is never longer than its longest, also if they are yet to come by the clock.
            farm.clock.move(Duration.ofHours(-48));
            farm.clock.move(Duration.ofMinutes(6));
            assertThat(farm.trySignIn("owner", "wrong")
                            .headers()
                            .firstValue("Retry-After")
                            .map(Integer::parseInt)
                            .orElse(0))
                    .isLessThanOrEqualTo(300);

            assertThat(farm.farm.bean(CheckCommand.class).run(new PrintStream(OutputStream.nullOutputStream())))
                    .isZero();
            var boards = jdbc.sql(rows).query(String.class).list();
            farm.farm.bean(Rebuild.class).everything();
            // What was made anew is the other copy.
            assertThat(jdbc.sql(rows.replace("_1", "_2")).query(String.class).list())
                    .isEqualTo(boards);
            assertThat(Map.of("events", events(jdbc))).containsEntry("events", events);
        }
    }

    private static int events(JdbcClient jdbc) {
        return jdbc.sql("select count(*) from event").query(Integer.class).single();
    }
}
