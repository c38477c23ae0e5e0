import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/** The machine that a command runs on, and its clock. */
final class Machine {

    private Machine() {}

    static double seconds(long since) {
        return (System.nanoTime() - since) / 1e9;
    }

    static double quantile(List<Double> values, double quantile) {
        List<Double> sorted = values.stream().sorted().toList();
        return sorted.get((int) Math.round(quantile * (sorted.size() - 1)));
    }

    static String load() {
        return String.format(
                Locale.ROOT,
                "%.1f",
                ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage());
    }

    /** Bytes. */
    static long memory() {
        return ((com.sun.management.OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
                .getTotalMemorySize();
    }

    static void delete(Path directory) {
        try (Stream<Path> files = Files.walk(directory)) {
            files.sorted(Collections.reverseOrder())
                    .forEach(file -> file.toFile().delete());
        } catch (IOException e) {
            System.err.println(directory + " could not be removed: " + e);
        }
    }
}
