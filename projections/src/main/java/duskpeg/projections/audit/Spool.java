package duskpeg.projections.audit;

import duskpeg.core.audit.Bundle;
import duskpeg.core.audit.Container;
import duskpeg.core.audit.Part;
import duskpeg.core.audit.Proved;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/**
 * What may be large of a bundle, its events and their proofs: two temporary files, which are gone when this is closed.
 */
final class Spool implements AutoCloseable {

    private static final int BUFFER = 1 << 16;

    private final Spooled events = new Spooled();
    private final Spooled proofs = new Spooled();
    private long size;

    Spool() throws IOException {}

    /**
     * Adds the next event in the order of the tree.
     *
     * @throws IllegalArgumentException if it is more than a bundle holds
     */
    void add(Proved event) throws IOException {
        size += events.write(Bundle.event(event)) + proofs.write(Bundle.proof(event));
        if (size > Container.MOST_BYTES) {
            throw new IllegalArgumentException("The whole log is more than the 2 GB that a bundle holds.");
        }
    }

    /** The events; to be asked for once. */
    Part events() throws IOException {
        return events.part();
    }

    /** Their proofs; to be asked for once. */
    Part proofs() throws IOException {
        return proofs.part();
    }

    @Override
    public void close() throws IOException {
        try (events) {
            proofs.close();
        }
    }

    /** One of the files. */
    private static final class Spooled implements AutoCloseable {

        private final FileChannel file;
        private final Part.Measured measured = new Part.Measured();
        private final OutputStream out;

        Spooled() throws IOException {
            // Only its owner can read it.
            Path path = Files.createTempFile("duskpeg-bundle-", ".part");
            file = FileChannel.open(
                    path, StandardOpenOption.READ, StandardOpenOption.WRITE, StandardOpenOption.DELETE_ON_CLOSE);
            out = new BufferedOutputStream(Channels.newOutputStream(file), BUFFER);
        }

        int write(byte[] bytes) throws IOException {
            measured.take(bytes, 0, bytes.length);
            out.write(bytes);
            return bytes.length;
        }

        Part part() throws IOException {
            out.flush();
            return measured.part(this::copy);
        }

        private void copy(Part.Sink to) throws IOException {
            file.position(0);
            ByteBuffer some = ByteBuffer.allocate(BUFFER);
            while (file.read(some) >= 0) {
                to.take(some.array(), 0, some.position());
                some.clear();
            }
        }

        @Override
        public void close() throws IOException {
            file.close();
        }
    }
}
