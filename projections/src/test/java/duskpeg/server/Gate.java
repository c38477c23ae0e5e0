package duskpeg.server;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/** Stands between the server and its database, and can be shut: then what is open breaks and nothing new gets through. */
final class Gate implements AutoCloseable {

    private final ServerSocket listening;
    private final int behind;
    private final Set<Socket> open = ConcurrentHashMap.newKeySet();
    private volatile State state = State.OPEN;

    /** How it stands. */
    private enum State {
        OPEN,
        /** Connections break, and new ones with them. */
        SHUT,
        /** Connections stay, and nothing comes through them: a machine that hangs. */
        SILENT
    }

    Gate(int behind) throws IOException {
        this.behind = behind;
        listening = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
        start(this::accept);
    }

    int port() {
        return listening.getLocalPort();
    }

    void shut() throws IOException {
        state = State.SHUT;
        breakAll();
    }

    void silence() {
        state = State.SILENT;
    }

    void open() throws IOException {
        boolean wasSilent = state == State.SILENT;
        state = State.OPEN;
        if (wasSilent) {
            breakAll();
        }
    }

    private void breakAll() throws IOException {
        for (Socket socket : open) {
            socket.close();
        }
        open.clear();
    }

    private static void start(Runnable work) {
        Thread thread = new Thread(work, "gate");
        thread.setDaemon(true);
        thread.start();
    }

    private void accept() {
        while (!listening.isClosed()) {
            try {
                Socket in = listening.accept();
                if (state == State.SHUT) {
                    in.close();
                    continue;
                }
                Socket out = new Socket(InetAddress.getLoopbackAddress(), behind);
                open.add(in);
                open.add(out);
                start(() -> copy(in, out));
                start(() -> copy(out, in));
            } catch (IOException e) {
                // Shut.
            }
        }
    }

    private void copy(Socket from, Socket to) {
        try (from;
                to) {
            InputStream in = from.getInputStream();
            OutputStream out = to.getOutputStream();
            byte[] bytes = new byte[8192];
            for (int read = in.read(bytes); read >= 0; read = in.read(bytes)) {
                if (state != State.SILENT) {
                    out.write(bytes, 0, read);
                }
            }
        } catch (IOException e) {
            // Broken.
        }
    }

    @Override
    public void close() throws IOException {
        listening.close();
        breakAll();
    }
}
