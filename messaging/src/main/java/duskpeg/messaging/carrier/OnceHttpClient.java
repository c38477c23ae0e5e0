package duskpeg.messaging.carrier;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.twilio.http.NetworkHttpClient;
import com.twilio.http.Request;
import com.twilio.http.Response;
import java.time.Duration;
import java.util.Arrays;
import org.apache.hc.client5.http.config.ConnectionConfig;
import org.apache.hc.client5.http.config.RequestConfig;
import org.apache.hc.client5.http.impl.classic.HttpClientBuilder;
import org.apache.hc.client5.http.impl.io.PoolingHttpClientConnectionManagerBuilder;
import org.apache.hc.core5.http.Header;
import org.apache.hc.core5.http.HttpHeaders;
import org.apache.hc.core5.util.Timeout;
import org.jspecify.annotations.Nullable;

/**
 * The carrier's HTTP client, that sends a request once. The SDK's own client repeats what was answered with a 5xx, and
 * the HTTP library below it what was answered with a 503: a worker would get one text several times.
 *
 * <p>Every request has a connection of its own, since one that the other side has silently given up could not be told
 * from a text that was handed over.
 */
public final class OnceHttpClient extends NetworkHttpClient {

    private static final ObjectMapper JSON = new ObjectMapper();

    private OnceHttpClient(HttpClientBuilder builder) {
        super(builder);
    }

    /**
     * @param builder what to build on
     * @param connect how long a connection may take
     * @param answer how long the carrier may be silent
     */
    public static OnceHttpClient of(HttpClientBuilder builder, Duration connect, Duration answer) {
        return new OnceHttpClient(builder.disableAutomaticRetries()
                .disableRedirectHandling()
                .disableCookieManagement()
                .setConnectionReuseStrategy((request, response, context) -> false)
                .setConnectionManager(PoolingHttpClientConnectionManagerBuilder.create()
                        .setDefaultConnectionConfig(ConnectionConfig.custom()
                                .setConnectTimeout(Timeout.of(connect))
                                .setSocketTimeout(Timeout.of(answer))
                                .build())
                        .setMaxConnPerRoute(20)
                        .build())
                .setDefaultRequestConfig(RequestConfig.custom()
                        .setConnectionRequestTimeout(Timeout.of(connect))
                        .setResponseTimeout(Timeout.of(answer))
                        .build()));
    }

    @Override
    public Response reliableRequest(Request request, int[] retryCodes, int retries, long delayMillis) {
        return makeRequest(request);
    }

    /**
     * @throws NotTaken if the answer is no success
     * @throws com.twilio.exception.ApiException if there is no answer; its cause tells why
     */
    @Override
    public Response makeRequest(Request request) {
        Response response = super.makeRequest(request);
        if (response.getStatusCode() >= 300) {
            throw new NotTaken(response.getStatusCode(), code(response), retryAfter(response));
        }
        return response;
    }

    private static @Nullable Integer code(Response response) {
        try {
            String content = response.getContent();
            JsonNode code = content == null ? null : JSON.readTree(content).get("code");
            return code == null || !code.isInt() ? null : Integer.valueOf(code.intValue());
        } catch (JsonProcessingException e) {
            return null;
        }
    }

    /** Only whole seconds are heeded; a date would depend on two clocks. */
    private static @Nullable Duration retryAfter(Response response) {
        Header[] headers = response.getHeaders();
        return headers == null
                ? null
                : Arrays.stream(headers)
                        .filter(header -> header.getName().equalsIgnoreCase(HttpHeaders.RETRY_AFTER))
                        .map(header -> header.getValue().strip())
                        .filter(value -> value.matches("[0-9]{1,6}"))
                        .map(value -> Duration.ofSeconds(Long.parseLong(value)))
                        .findFirst()
                        .orElse(null);
    }
}
