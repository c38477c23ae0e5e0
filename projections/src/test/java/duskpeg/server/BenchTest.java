package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.jar.Attributes;
import java.util.jar.JarOutputStream;
import java.util.jar.Manifest;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

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

    @Test
    void everyAnswerOfBothPathsIsInTheDatabaseOnce() throws Exception {
        assertThat(run("Paths", "--clients", "2", "--seconds", "1", "--warm", "1"))
                .contains("database: each once");
    }

    @Test
    void aSeasonIsRebuilt(@TempDir Path folder) throws Exception {
        assertThat(run("Rebuilding", "--events", "2000", "--jar", jar(folder).toString()))
                .contains("beside bare read and insert");
    }

    /** There is none yet while tests run: one that leads to the classes. */
    private static Path jar(Path folder) throws IOException {
        Manifest manifest = new Manifest();
        manifest.getMainAttributes().put(Attributes.Name.MANIFEST_VERSION, "1.0");
        manifest.getMainAttributes().put(Attributes.Name.MAIN_CLASS, Duskpeg.class.getName());
        manifest.getMainAttributes()
                .put(
                        Attributes.Name.CLASS_PATH,
                        Stream.of(System.getProperty("java.class.path")
                                        .split(Pattern.quote(System.getProperty("path.separator")), -1))
                                .map(one -> Path.of(one).toUri().toString())
                                .collect(Collectors.joining(" ")));
        Path jar = folder.resolve("duskpeg.jar");
        new JarOutputStream(Files.newOutputStream(jar), manifest).close();
        return jar;
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
