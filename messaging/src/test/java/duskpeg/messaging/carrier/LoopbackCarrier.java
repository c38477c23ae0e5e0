package duskpeg.messaging.carrier;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;
import org.apache.hc.client5.http.HttpRoute;
import org.apache.hc.client5.http.impl.classic.HttpClientBuilder;
import org.apache.hc.core5.http.HttpHost;

/** A server on this machine that answers as the carrier's API does. */
final class LoopbackCarrier implements AutoCloseable {

    /** Made up; the form is the carrier's. */
    static final String ACCOUNT = "AC00000000000000000000000000000000";

    /** One request: its method, path and form or query. */
    record Seen(String method, String path, Map<String, String> values) {}

    /** What it does with a request. */
    interface Reply {
        void to(HttpExchange exchange) throws IOException;
    }

    private final HttpServer server;
    private final List<Seen> seen = new CopyOnWriteArrayList<>();
    private volatile Reply reply = exchange -> {};

    LoopbackCarrier() {
        try {
            server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        server.setExecutor(Executors.newCachedThreadPool());
        server.createContext("/", exchange -> {
            String body = new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8);
            String query = exchange.getRequestURI().getRawQuery();
            seen.add(new Seen(
                    exchange.getRequestMethod(),
                    exchange.getRequestURI().getPath(),
                    values(body.isEmpty() ? String.valueOf(query) : body)));
            try {
                reply.to(exchange);
            } finally {
                exchange.close();
            }
        });
        server.start();
    }

    private static Map<String, String> values(String form) {
        Map<String, String> values = new TreeMap<>();
        for (String pair : form.split("&", -1)) {
            String[] parts = pair.split("=", 2);
            values.put(parts[0], URLDecoder.decode(parts.length > 1 ? parts[1] : "", StandardCharsets.UTF_8));
        }
        return values;
    }

    static Reply answer(int status, String json, String... headers) {
        return exchange -> {
            exchange.getResponseHeaders().set("Content-Type", "application/json");
            for (int i = 0; i < headers.length; i += 2) {
                exchange.getResponseHeaders().set(headers[i], headers[i + 1]);
            }
            byte[] body = json.getBytes(StandardCharsets.UTF_8);
            exchange.sendResponseHeaders(status, body.length);
            exchange.getResponseBody().write(body);
        };
    }

    /** Takes the request and says nothing until that time is over. */
    static Reply silence(Duration time) {
        return exchange -> {
            try {
                Thread.sleep(time.toMillis());
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        };
    }

    LoopbackCarrier will(Reply next) {
        reply = next;
        return this;
    }

    List<Seen> seen() {
        return seen;
    }

    /** The client that a server would use, led here whatever the address. */
    OnceHttpClient client(Duration patience) {
        return client(server.getAddress().getPort(), patience);
    }

    static OnceHttpClient client(int port, Duration patience) {
        HttpHost here = new HttpHost("http", InetAddress.getLoopbackAddress(), port);
        return OnceHttpClient.of(
                HttpClientBuilder.create().setRoutePlanner((host, context) -> new HttpRoute(here)), patience, patience);
    }

    @Override
    public void close() {
        server.stop(0);
    }
}
