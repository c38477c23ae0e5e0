package duskpeg.projections.audit;

import duskpeg.core.audit.Container;
import duskpeg.core.audit.Part;
import java.io.IOException;
import java.io.OutputStream;
import java.util.Map;

/** A bundle that was made and is yet to be written. What is large of it lies in temporary files until it is closed. */
public final class Made implements AutoCloseable {

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
