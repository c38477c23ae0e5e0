import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.Locale;

/**
 * One connection to a server on this machine, kept open over many requests; a plain socket, so that the load costs
 * little beside the server, and so that anything at all can be sent.
 */
final class Wire implements AutoCloseable {

    private final int port;
    private final int patience;
    private Socket socket;
    private InputStream in;
    private OutputStream out;

    /**
     * @param port the server's port
     * @param patience how many milliseconds an answer may keep silent
     */
    Wire(int port, int patience) {
        this.port = port;
        this.patience = patience;
    }

    /**
     * An answer.
     *
     * @param status its status code
     * @param body its body
     */
    record Answer(int status, byte[] body) {

        String text() {
            return new String(body, StandardCharsets.UTF_8);
        }
    }

    static String encode(String value) {
        return URLEncoder.encode(value, StandardCharsets.UTF_8);
    }

    /** The request that posts a form of plain ASCII, as heard at an instant. */
    static byte[] form(String path, String form, String now) {
        String request = "POST " + path + " HTTP/1.1\r\nHost: 127.0.0.1"
                + "\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: " + form.length()
                + "\r\nX-Duskpeg-Now: " + now + "\r\n\r\n" + form;
        return request.getBytes(StandardCharsets.US_ASCII);
    }

    /** Posts a form of plain ASCII, as heard at an instant. */
    Answer post(String path, String form, String now) throws IOException {
        return send(form(path, form, now), false);
    }

    /**
     * Sends these bytes and reads one answer.
     *
     * @param last whether nothing more will be sent, so that the server sees the end of it
     * @throws IOException if there is no answer, or half of one; the next request opens a new connection
     */
    Answer send(byte[] request, boolean last) throws IOException {
        if (socket == null) {
            open();
        }
        try {
            write(request);
            if (last) {
                socket.shutdownOutput();
            }
            Answer answer = answer();
            if (last) {
                close();
            }
            return answer;
        } catch (IOException e) {
            close();
            throw e;
        }
    }

    /** Sends these bytes and goes away without an answer, as a broken line does. */
    void sendAndLeave(byte[] request) throws IOException {
        if (socket == null) {
            open();
        }
        write(request);
        close();
    }

    private void write(byte[] request) throws IOException {
        try {
            out.write(request);
            out.flush();
        } catch (IOException e) {
            // A server that refuses a request may stop reading it; what it said is still to be read.
            if (in.available() == 0) {
                throw e;
            }
        }
    }

    private void open() throws IOException {
        socket = new Socket();
        socket.setTcpNoDelay(true);
        socket.setSoTimeout(patience);
        try {
            socket.connect(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), 10_000);
            in = new BufferedInputStream(socket.getInputStream());
            out = socket.getOutputStream();
        } catch (IOException e) {
            close();
            throw e;
        }
    }

    private Answer answer() throws IOException {
        String[] statusLine = line().split(" ");
        if (statusLine.length < 2 || !statusLine[0].startsWith("HTTP/1.")) {
            throw new IOException("no status line");
        }
        int status = Integer.parseInt(statusLine[1]);
        int length = -1;
        boolean chunked = false;
        boolean close = false;
        for (String line = line(); !line.isEmpty(); line = line()) {
            String header = line.toLowerCase(Locale.ROOT);
            if (header.startsWith("content-length:")) {
                length = Integer.parseInt(
                        header.substring("content-length:".length()).strip());
            } else if (header.startsWith("transfer-encoding:")) {
                chunked = header.contains("chunked");
            } else if (header.startsWith("connection:")) {
                close = header.contains("close");
            }
        }
        if (status == 100) {
            return answer();
        }
        byte[] body = chunked ? chunks() : length < 0 ? in.readAllBytes() : in.readNBytes(length);
        if (length >= 0 && body.length < length) {
            throw new EOFException("half an answer");
        }
        if (close || (length < 0 && !chunked)) {
            close();
        }
        return new Answer(status, body);
    }

    private byte[] chunks() throws IOException {
        ByteArrayOutputStream body = new ByteArrayOutputStream();
        for (int size = chunkSize(); size > 0; size = chunkSize()) {
            body.write(in.readNBytes(size));
            line();
        }
        line();
        return body.toByteArray();
    }

    private int chunkSize() throws IOException {
        return Integer.parseInt(line().strip(), 16);
    }

    private String line() throws IOException {
        ByteArrayOutputStream line = new ByteArrayOutputStream(80);
        for (int next = in.read(); next != '\n'; next = in.read()) {
            if (next < 0) {
                throw new EOFException("the connection ended");
            }
            if (next != '\r') {
                line.write(next);
            }
        }
        return line.toString(StandardCharsets.ISO_8859_1);
    }

    @Override
    public void close() {
        if (socket != null) {
            try {
                socket.close();
            } catch (IOException e) {
                // It is gone either way.
            }
            socket = null;
        }
    }
}
