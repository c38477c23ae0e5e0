package duskpeg.messaging.text;

import com.twilio.security.RequestValidator;
import jakarta.servlet.http.HttpServletRequest;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.web.util.UriUtils;

/**
 * Whether a webhook's request is the carrier's own. With the account's token the request must carry its signature;
 * without one only this machine itself is answered.
 */
public final class Signature {

    private final Optional<RequestValidator> validator;
    private final String publicUrl;

    /**
     * @param token the account's token, empty for none
     * @param publicUrl the address the carrier calls, up to the path, where that is not the address this server sees
     *     (behind a proxy); empty for none
     */
    public Signature(String token, String publicUrl) {
        this.validator = token.isEmpty() ? Optional.empty() : Optional.of(new RequestValidator(token));
        this.publicUrl = publicUrl;
    }

    /** Whether the request may be answered. */
    public boolean accepts(HttpServletRequest request) {
        return validator.map(known -> signed(known, request)).orElseGet(() -> fromThisMachine(request));
    }

    private boolean signed(RequestValidator known, HttpServletRequest request) {
        String signature = request.getHeader("X-Twilio-Signature");
        String query = request.getQueryString();
        return signature != null && known.validate(url(request, query), postedParameters(request, query), signature);
    }

    private String url(HttpServletRequest request, @Nullable String query) {
        String base = publicUrl.isEmpty() ? request.getRequestURL().toString() : publicUrl + request.getRequestURI();
        return query == null ? base : base + "?" + query;
    }

    /**
     * The signature covers the query as part of the address, so only what was posted counts as parameters. A servlet
     * lists the values of the query before those of the body.
     */
    private static Map<String, String> postedParameters(HttpServletRequest request, @Nullable String query) {
        Map<String, Integer> inQuery = new HashMap<>();
        for (String parameter : query == null ? new String[0] : query.split("&", -1)) {
            String name = parameter.split("=", 2)[0];
            inQuery.merge(UriUtils.decode(name.replace('+', ' '), StandardCharsets.UTF_8), 1, Integer::sum);
        }
        Map<String, String> posted = new HashMap<>();
        request.getParameterMap().forEach((name, values) -> {
            int first = inQuery.getOrDefault(name, 0);
            if (first < values.length) {
                posted.put(name, values[first]);
            }
        });
        return posted;
    }

    /** A browser on this machine says when a page of another site sends a form through it. */
    private static boolean fromThisMachine(HttpServletRequest request) {
        String address = request.getRemoteAddr();
        if (address == null || address.isEmpty() || "cross-site".equals(request.getHeader("Sec-Fetch-Site"))) {
            return false;
        }
        try {
            return InetAddress.getByName(address).isLoopbackAddress();
        } catch (UnknownHostException e) {
            return false;
        }
    }
}
