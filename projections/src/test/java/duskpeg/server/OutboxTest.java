package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.core.text.Tell;
import duskpeg.projections.rebuild.Rebuild;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.transaction.support.TransactionTemplate;

/** Texts that go out by themselves, on the assembled server. */
class OutboxTest {

    private static final FarmId FARM = new FarmId("marrowfield");
    private static final WorkerId NOMSA = new WorkerId(FARM, "w1");
    private static final String MORNING = "2026-11-26T07:30:00+02:00";

    private TestFarm farm;

    private void open(Engine engine, String... settings) {
        farm = new TestFarm(engine, settings).at(MORNING);
    }

    @AfterEach
    void close() {
        farm.close();
    }

    private boolean tell(WorkerId worker, String words, String once) {
        return farm.bean(CommandGateway.class)
                .sendAndWait(new Tell(
                        worker,
                        "told.from",
                        Map.of("name", "Ruth", "words", words),
                        once,
                        Instant.parse("2026-11-26T05:30:00Z")));
    }

    private List<String> received(String who, int atLeast) {
        return Received.by(farm, who, atLeast);
    }

    @ParameterizedTest
    @EnumSource
    void whatAWorkerIsToldComesToHerPhoneOnceAndInOrder(Engine engine) {
        open(engine);

        assertThat(tell(NOMSA, "row 12 is yours", "a")).isTrue();
        assertThat(tell(NOMSA, "row 13 too", "b")).isTrue();
        assertThat(tell(NOMSA, "row 12 is yours", "a")).isTrue();

        assertThat(received("Nomsa", 2)).containsExactly("Ruth: row 12 is yours", "Ruth: row 13 too");
        assertThat(received("Pieter", 0)).isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void nobodyIsToldWhereNobodyIsKnown(Engine engine) {
        open(engine);

        assertThat(tell(new WorkerId(FARM, "gone"), "hello", "a")).isFalse();
        assertThat(farm.bean(OutgoingTexts.class).newest(FARM, 10)).isEmpty();
    }

    @ParameterizedTest
    @EnumSource(names = "H2")
    void nothingIsCut(Engine engine) {
        open(engine);

        assertThat(tell(NOMSA, "x".repeat(160 - "Ruth: ".length()), "fits")).isTrue();
        assertThatIllegalArgumentException()
                .isThrownBy(() -> tell(NOMSA, "x".repeat(161 - "Ruth: ".length()), "does not"))
                .withMessageContaining("161");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> farm.bean(CommandGateway.class)
                        .sendAndWait(new Tell(NOMSA, "told.nothing-of-it", Map.of(), "c", Instant.EPOCH)));
        assertThat(farm.bean(OutgoingTexts.class).newest(FARM, 10))
                .extracting(Outgoing::once)
                .containsExactly("fits");
    }

    @ParameterizedTest
    @EnumSource
    void aTextIsPostedWithItsTransactionOrNotAtAll(Engine engine) {
        open(engine);
        Outbox outbox = farm.bean(Outbox.class);
        TransactionTemplate transaction = farm.bean(TransactionTemplate.class);
        Instant made = Instant.parse("2026-11-26T05:30:00Z");
        transaction.executeWithoutResult(status -> {
            outbox.post(FARM, "+15555550101", "undone", "undone", made);
            status.setRollbackOnly();
        });

        transaction.executeWithoutResult(status -> {
            outbox.post(FARM, "+15555550101", "first", "one", made);
            outbox.post(FARM, "+15555550101", "not again", "one", made);
            // The transaction lives on after a name that was taken.
            outbox.post(FARM, "+15555550101", "second", "two", made);
        });

        assertThat(received("Nomsa", 2)).containsExactly("first", "second");
    }

    @ParameterizedTest
    @EnumSource(names = "H2")
    void withoutACarrierDuskpegItselfAnswersStop(Engine engine) {
        open(engine);
        farm.text("Nomsa", "lang es");

        assertThat(farm.text("Nomsa", "STOP")).startsWith("Ya no llegan mensajes por su cuenta.");
        tell(NOMSA, "row 12 is yours", "a");
        assertThat(farm.text("Nomsa", "2345 12 6")).startsWith("Fila 12");
        assertThat(farm.text("Nomsa", "yes")).startsWith("Usted recibe mensajes de la finca.");
        tell(NOMSA, "row 13 is yours", "b");

        assertThat(received("Nomsa", 1)).containsExactly("Ruth: row 13 is yours");
        assertThat(farm.json("/api/outbox").get(0).get("state").asText()).isEqualTo("held");
        // A stranger's number can ask for no more texts too.
        assertThat(farm.text("+15555550177", "quit")).startsWith("No more texts come by themselves.");
    }

    @ParameterizedTest
    @EnumSource(names = "H2")
    void aRebuildSendsNothing(Engine engine) {
        open(engine);
        farm.text("Nomsa", "2345 12 6");
        tell(NOMSA, "row 12 is yours", "a");
        received("Nomsa", 1);
        List<Outgoing> before = farm.bean(OutgoingTexts.class).newest(FARM, 100);

        farm.bean(Rebuild.class).everything();

        assertThat(farm.bean(OutgoingTexts.class).newest(FARM, 100)).isEqualTo(before);
        assertThat(received("Nomsa", 1)).containsExactly("Ruth: row 12 is yours");
    }
}
