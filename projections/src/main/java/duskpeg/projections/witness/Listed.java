package duskpeg.projections.witness;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** A setting that is a list. */
final class Listed {

    private static final String FILE = "file:";

    private Listed() {}

    /**
     * The entries of a setting: with commas between, or the lines of the file behind {@code file:}, where empty lines
     * and those that begin with {@code #} say nothing.
     */
    static List<String> entries(String setting) {
        Stream<String> entries = setting.startsWith(FILE)
                ? lines(Path.of(setting.substring(FILE.length()))).stream().filter(line -> !line.startsWith("#"))
                : Stream.of(setting.split(",", -1));
        return entries.map(String::strip).filter(entry -> !entry.isEmpty()).toList();
    }

    private static List<String> lines(Path file) {
        try {
            return Files.readAllLines(file);
        } catch (IOException e) {
            throw new UncheckedIOException("a list in the settings can't be read: " + file, e);
        }
    }
}
