package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The commands in {@code src/bench} with little to do, so that they don't rot; {@code docs/benchmarks.md}. */
class BenchTest {

    private static final Path PROJECT = project();

    @Test
    void hostileTextsAreAllAnswered() throws Exception {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            assertThat(run("Fuzz", "--texts", "400", "--patience", "120000", "--url", farm.address("")))
                    .contains("No failures.")
                    .contains("The server is well.");
        }
    }

    @Test
    void aMorningOverABadNetworkEndsAsTheMorningInOrder() throws Exception {
        try (TestFarm orderly = new TestFarm(Engine.H2);
                TestFarm jumbled = new TestFarm(Engine.H2)) {
            assertThat(run(
                            "Delivery",
                            "--rounds",
                            "1",
                            "--orderly",
                            orderly.address(""),
                            "--jumbled",
                            jumbled.address("")))
                    .contains("No differences.");
        }
    }

    @Test
    void everyViewerHasEveryText() throws Exception {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            assertThat(run(
                            "Viewers",
                            "--viewers",
                            "5",
                            "--texts",
                            "5",
                            "--seconds",
                            "2",
                            "--warm",
                            "1",
                            "--url",
                            farm.address("")))
                    .contains("never on somebody's board: 0");
        }
    }

    @Test
    void aChangedByteIsFound() throws Exception {
        assertThat(run("Tamper", "--places", "500")).contains("Nothing that is claimed was changed unseen.");
    }

    /** Runs a command as its documentation says, and gives what it printed. */
    private static String run(String command, String... options) throws IOException, InterruptedException {
        List<String> line = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                PROJECT.resolve("projections/target/bench")
                        + System.getProperty("path.separator")
                        + System.getProperty("java.class.path"),
                command));
        line.addAll(List.of(options));
        Process process = new ProcessBuilder(line)
                .directory(PROJECT.toFile())
                .redirectErrorStream(true)
                .start();
        String printed = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor()).as(printed).isZero();
        return printed;
    }

    private static Path project() {
        Path folder = Path.of("").toAbsolutePath();
        while (!Files.isDirectory(folder.resolve("projections/src/bench"))) {
            folder = folder.getParent();
        }
        return folder;
    }
}
