package duskpeg.projections.audit;

import duskpeg.core.audit.Container;
import duskpeg.core.audit.Part;
import java.io.IOException;
import java.io.OutputStream;
import java.util.Map;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;

/** A bundle that was made and is yet to be written. What is large of it lies in temporary files until it is closed. */
public final class Made implements AutoCloseable {

    static final MediaType ZIP = new MediaType("application", "zip");

    private final Map<String, Part> files;
    private final Spool spool;
    private final long size;

    /**
     * @param spool what some of the files lie in
     * @throws IllegalArgumentException if it is more than a bundle holds
     */
    Made(Map<String, Part> files, Spool spool) {
        this.files = files;
        this.spool = spool;
        this.size = Container.size(files);
    }

    /**
     * The answer with it, as a file to keep.
     *
     * @param name the file's, without what every bundle's name has
     */
    public ResponseEntity<Made> named(String name) {
        return ResponseEntity.ok()
                .contentType(ZIP)
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        ContentDisposition.attachment()
                                .filename("duskpeg-" + name + ".zip")
                                .build()
                                .toString())
                .body(this);
    }

    /** How many bytes it has. */
    long size() {
        return size;
    }

    /** Writes it. */
    void writeTo(OutputStream out) throws IOException {
        Container.write(files, out::write);
    }

    @Override
    public void close() throws IOException {
        spool.close();
    }
}
