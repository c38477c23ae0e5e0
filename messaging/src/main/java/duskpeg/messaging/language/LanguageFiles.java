package duskpeg.messaging.language;

import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Where the files of the languages are: {@code language/<code>.properties} for what is read and
 * {@code reply/<code>.properties} for what is answered, first in a farm's own folder, then in {@code duskpeg/} on the
 * classpath.
 *
 * @param folder the farm's own folder; null if there is none
 */
public record LanguageFiles(@Nullable Path folder) {

    /** The languages on the classpath alone. */
    public static final LanguageFiles BUILT_IN = new LanguageFiles(null);

    private static final String WORDS = "language";
    private static final String SUFFIX = ".properties";
    private static final Pattern CODE = Pattern.compile("[a-z]{2,8}");

    /**
     * @throws IllegalArgumentException if the folder is not there
     */
    public LanguageFiles {
        if (folder != null && !Files.isDirectory(folder)) {
            throw new IllegalArgumentException("no folder of languages: " + folder);
        }
    }

    /** The codes that there are words of, in their order. On the classpath only codes of two letters are looked for. */
    public Set<String> codes() {
        Set<String> codes = new TreeSet<>();
        for (String code : Locale.getISOLanguages()) {
            if (LanguageFiles.class.getResource(resource(WORDS, code)) != null) {
                codes.add(code);
            }
        }
        if (folder != null && Files.isDirectory(folder.resolve(WORDS))) {
            try (Stream<Path> files = Files.list(folder.resolve(WORDS))) {
                files.map(file -> file.getFileName().toString())
                        .filter(name -> name.endsWith(SUFFIX))
                        .map(name -> name.substring(0, name.length() - SUFFIX.length()))
                        .filter(name -> CODE.matcher(name).matches())
                        .forEach(codes::add);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
        return codes;
    }

    /**
     * Reads a file, in UTF-8.
     *
     * @param kind {@code language} or {@code reply}
     * @param code two to eight letters a-z
     * @throws IllegalArgumentException if there is no such file
     */
    public Properties read(String kind, String code) {
        if (!CODE.matcher(code).matches()) {
            throw new IllegalArgumentException("not a language: " + code);
        }
        try (InputStream in =
                open(kind, code).orElseThrow(() -> new IllegalArgumentException("no " + kind + "/" + code + SUFFIX))) {
            Properties file = new Properties();
            file.load(new InputStreamReader(in, StandardCharsets.UTF_8));
            return file;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private Optional<InputStream> open(String kind, String code) throws IOException {
        if (folder != null) {
            Path own = folder.resolve(kind).resolve(code + SUFFIX);
            if (Files.isRegularFile(own)) {
                return Optional.of(Files.newInputStream(own));
            }
        }
        return Optional.ofNullable(LanguageFiles.class.getResourceAsStream(resource(kind, code)));
    }

    private static String resource(String kind, String code) {
        return "/duskpeg/" + kind + "/" + code + SUFFIX;
    }
}
