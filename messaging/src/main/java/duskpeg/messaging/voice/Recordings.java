package duskpeg.messaging.voice;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.core.io.FileSystemResource;
import org.springframework.core.io.Resource;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RestController;

/**
 * The farm's own recordings of what is said on calls, from a folder: {@code zu/greeting.mp3} is {@code voice.greeting}
 * in isiZulu. Only what always has the same words can be recorded. The folder is read when the server starts.
 */
@RestController
class Recordings {

    private static final String PATH = "/field/voice/recordings/";
    private static final Pattern FILE = Pattern.compile("[a-z]{2,8}/([a-z]{1,30})\\.(mp3|wav)");
    private static final int DEPTH = 2;

    private final Map<String, Path> files;

    /**
     * @throws IOException if there is no such folder
     */
    Recordings(@Value("${duskpeg.recordings-dir:}") String folder) throws IOException {
        files = folder.isBlank() ? Map.of() : in(Path.of(folder));
    }

    private static Map<String, Path> in(Path folder) throws IOException {
        Map<String, Path> found = new TreeMap<>();
        try (Stream<Path> files = Files.find(folder, DEPTH, (file, attributes) -> attributes.isRegularFile())) {
            files.forEach(file -> {
                String name = folder.relativize(file).toString().replace('\\', '/');
                if (FILE.matcher(name).matches()) {
                    found.put(name, file);
                }
            });
        }
        return found;
    }

    /** The path, on this server, of a recorded phrase. */
    Optional<String> of(String language, String phrase) {
        String name = language + "/" + phrase.substring(phrase.indexOf('.') + 1);
        return Stream.of(".mp3", ".wav")
                .map(suffix -> name + suffix)
                .filter(files::containsKey)
                .map(file -> PATH + file)
                .findFirst();
    }

    @GetMapping(PATH + "{language}/{file}")
    ResponseEntity<Resource> recording(@PathVariable String language, @PathVariable String file) {
        String name = language + "/" + file;
        Path found = files.get(name);
        if (found == null) {
            return ResponseEntity.notFound().build();
        }
        Matcher kind = FILE.matcher(name);
        return ResponseEntity.ok()
                .contentType(
                        new MediaType("audio", kind.matches() && kind.group(2).equals("mp3") ? "mpeg" : "wav"))
                .body(new FileSystemResource(found));
    }
}
