package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Note;
import duskpeg.projections.audit.VerifyCommand;
import duskpeg.projections.ledger.Publisher;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The checkpoint that is texted away each day, and what somebody who kept it can do with it. */
@OnBothEngines
class PublisherTest {

    private static final String READER = "+15555550190";
    private static final FarmId FARM = new FarmId("marrowfield");

    @Test
    void whatLiesOnAStrangersPhoneShowsThatNothingWasChanged(@TempDir Path folder) throws Exception {
        try (TestFarm farm = new TestFarm(Engine.asked(), "--duskpeg.ledger-readers=" + READER)) {
            farm.at("2024-04-30T17:10:00+02:00").text("Nomsa", "1 12 2 m 4");
            farm.at("2024-05-01T06:10:00+02:00").text("Nomsa", "2345 12 2");
            farm.awaitProjections();
            Publisher publisher = farm.bean(Publisher.class);
            publisher.publish(FARM, Instant.parse("2024-05-01T09:00:00Z"));
            assertThat(Received.at(farm, READER, 0)).isEmpty();
            publisher.publish(FARM, Instant.parse("2024-05-01T10:30:00Z"));
            publisher.publish(FARM, Instant.parse("2024-05-01T11:30:00Z"));

            List<String> texts = Received.at(farm, READER, 1);
            assertThat(texts).hasSize(1);
            String copied = texts.get(0).substring(texts.get(0).indexOf('\n') + 1);
            Checkpoint then = Checkpoint.parse(copied + "\n");
            String now = farm.get("/api/ledger/checkpoint").body();
            assertThat(then).isEqualTo(Checkpoint.parse(Note.parse(now).text()));

            farm.at("2024-07-10T09:00:00+02:00").text("Lerato", "7 4700");
            farm.awaitProjections();
            Path bundle = folder.resolve("bundle.zip");
            URI address = URI.create(farm.address("/api/audit/bundle?tie=4700&since=" + then.size()));
            HttpClient.newHttpClient().send(HttpRequest.newBuilder(address).build(), BodyHandlers.ofFile(bundle));

            assertThat(verify(bundle, Files.writeString(folder.resolve("copied.txt"), copied)))
                    .contains("is the beginning of this one", "It has no signature")
                    .contains("Everything that was checked holds.");
            String root = then.root().base64();
            String other = (root.charAt(0) == 'A' ? "B" : "A") + root.substring(1);
            assertThat(verify(bundle, Files.writeString(folder.resolve("other.txt"), copied.replace(root, other))))
                    .contains("The log was changed since your checkpoint");
        }
    }

    private static String verify(Path bundle, Path checkpoint) {
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        VerifyCommand.run(
                List.of(bundle.toString(), "--checkpoint", checkpoint.toString()),
                new PrintStream(said, true, StandardCharsets.UTF_8));
        return said.toString(StandardCharsets.UTF_8);
    }
}
