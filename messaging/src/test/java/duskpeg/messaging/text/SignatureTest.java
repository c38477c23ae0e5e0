package duskpeg.messaging.text;

import static org.assertj.core.api.Assertions.assertThat;

import com.twilio.security.RequestValidator;
import jakarta.servlet.http.HttpServletRequest;
import java.lang.reflect.Proxy;
import java.net.URI;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The signature is checked with the carrier's own documented example, recomputed apart from this project with HMAC-SHA1
 * over the address, then each posted name and value by name.
 */
class SignatureTest {

    private static final String TOKEN = "12345";
    private static final String ADDRESS = "https://mycompany.com/myapp.php";
    private static final String QUERY = "foo=1&bar=2";

    private static Map<String, String> call(String caller) {
        return Map.of(
                "CallSid", "CA1234567890ABCDE",
                "Caller", caller,
                "From", caller,
                "Digits", "1234",
                "To", "+18005551212");
    }

    @ParameterizedTest
    @CsvSource({"+14158675309, RSOYDt4T1cUTdK1PDd93/VVr8B8=", "+12349013030, 0/KCTR6DLpKmkAf8muzZqo1nDgQ="})
    void theCarriersLibraryAgreesWithItsExample(String caller, String signature) {
        assertThat(new RequestValidator(TOKEN).validate(ADDRESS + "?" + QUERY, call(caller), signature))
                .isTrue();
    }

    @ParameterizedTest
    @CsvSource({"+14158675309, RSOYDt4T1cUTdK1PDd93/VVr8B8=", "+12349013030, 0/KCTR6DLpKmkAf8muzZqo1nDgQ="})
    void theCarriersExampleIsAccepted(String caller, String signature) {
        HttpServletRequest request = new Request(ADDRESS)
                .query(QUERY)
                .posted(call(caller))
                .signed(signature)
                .made();

        assertThat(new Signature(TOKEN, "").accepts(request)).isTrue();
    }

    @Test
    void theExampleIsAcceptedBehindAProxy() {
        HttpServletRequest request = new Request("http://127.0.0.1:8080/myapp.php")
                .query(QUERY)
                .posted(call("+14158675309"))
                .signed("RSOYDt4T1cUTdK1PDd93/VVr8B8=")
                .made();

        assertThat(new Signature(TOKEN, "https://mycompany.com").accepts(request))
                .isTrue();
    }

    @Test
    void anotherCallersSignatureIsRefused() {
        HttpServletRequest request = new Request(ADDRESS)
                .query(QUERY)
                .posted(call("+14158675309"))
                .signed("0/KCTR6DLpKmkAf8muzZqo1nDgQ=")
                .made();

        assertThat(new Signature(TOKEN, "").accepts(request)).isFalse();
    }

    @Test
    void anotherTokenIsRefused() {
        HttpServletRequest request = new Request(ADDRESS)
                .query(QUERY)
                .posted(call("+14158675309"))
                .signed("RSOYDt4T1cUTdK1PDd93/VVr8B8=")
                .made();

        assertThat(new Signature("54321", "").accepts(request)).isFalse();
    }

    @Test
    void anotherAddressIsRefused() {
        HttpServletRequest request = new Request("https://mycompany.com/other.php")
                .query(QUERY)
                .posted(call("+14158675309"))
                .signed("RSOYDt4T1cUTdK1PDd93/VVr8B8=")
                .made();

        assertThat(new Signature(TOKEN, "").accepts(request)).isFalse();
    }

    @Test
    void anotherQueryIsRefused() {
        HttpServletRequest request = new Request(ADDRESS)
                .query("foo=1&bar=3")
                .posted(call("+14158675309"))
                .signed("RSOYDt4T1cUTdK1PDd93/VVr8B8=")
                .made();

        assertThat(new Signature(TOKEN, "").accepts(request)).isFalse();
    }

    @Test
    void oneMorePostedValueIsRefused() {
        HttpServletRequest request = new Request(ADDRESS)
                .query(QUERY)
                .posted(call("+14158675309"))
                .posted(Map.of("Body", "0"))
                .signed("RSOYDt4T1cUTdK1PDd93/VVr8B8=")
                .made();

        assertThat(new Signature(TOKEN, "").accepts(request)).isFalse();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "=", "not base64", "RSOYDt4T1cUTdK1PDd93/VVr8B8"})
    void aWrongSignatureIsRefused(String signature) {
        HttpServletRequest request = new Request(ADDRESS)
                .query(QUERY)
                .posted(call("+14158675309"))
                .signed(signature)
                .made();

        assertThat(new Signature(TOKEN, "").accepts(request)).isFalse();
    }

    @Test
    void noSignatureIsRefusedEvenFromThisMachine() {
        HttpServletRequest request = new Request(ADDRESS)
                .query(QUERY)
                .posted(call("+14158675309"))
                .from("127.0.0.1")
                .made();

        assertThat(new Signature(TOKEN, "").accepts(request)).isFalse();
    }

    @ParameterizedTest
    @ValueSource(strings = {"127.0.0.1", "127.1.2.3", "::1", "0:0:0:0:0:0:0:1", "::ffff:127.0.0.1"})
    void withoutATokenThisMachineIsAnswered(String address) {
        assertThat(new Signature("", "")
                        .accepts(new Request(ADDRESS).from(address).made()))
                .isTrue();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "10.0.0.5",
                "192.168.1.20",
                "203.0.113.7",
                "2001:db8::1",
                "fe80::1",
                "::ffff:10.0.0.5",
                "0.0.0.0"
            })
    void withoutATokenNobodyElseIsAnswered(String address) {
        assertThat(new Signature("", "")
                        .accepts(new Request(ADDRESS).from(address).made()))
                .isFalse();
    }

    @Test
    void withoutATokenNoSignatureHelps() {
        HttpServletRequest request = new Request(ADDRESS)
                .query(QUERY)
                .posted(call("+14158675309"))
                .signed("RSOYDt4T1cUTdK1PDd93/VVr8B8=")
                .from("10.0.0.5")
                .made();

        assertThat(new Signature("", "").accepts(request)).isFalse();
    }

    /** A request as a servlet container gives it: values of the query and posted ones come mixed in one map. */
    private static final class Request {

        private final String address;
        private final Map<String, String[]> parameters = new LinkedHashMap<>();
        private String query;
        private String signature;
        private String from = "203.0.113.7";

        Request(String address) {
            this.address = address;
        }

        Request query(String text) {
            query = text;
            Arrays.stream(text.split("&", -1))
                    .map(pair -> pair.split("=", 2))
                    .forEach(pair -> parameters.put(
                            URLDecoder.decode(pair[0], StandardCharsets.UTF_8),
                            new String[] {URLDecoder.decode(pair[1], StandardCharsets.UTF_8)}));
            return this;
        }

        Request posted(Map<String, String> values) {
            values.forEach((name, value) -> parameters.put(name, new String[] {value}));
            return this;
        }

        Request signed(String value) {
            signature = value;
            return this;
        }

        Request from(String value) {
            from = value;
            return this;
        }

        HttpServletRequest made() {
            return (HttpServletRequest) Proxy.newProxyInstance(
                    getClass().getClassLoader(),
                    new Class<?>[] {HttpServletRequest.class},
                    (proxy, method, arguments) -> switch (method.getName()) {
                        case "getHeader" -> "X-Twilio-Signature".equals(arguments[0]) ? signature : null;
                        case "getQueryString" -> query;
                        case "getRequestURL" -> new StringBuffer(address);
                        case "getRequestURI" -> URI.create(address).getPath();
                        case "getParameterMap" -> parameters;
                        case "getRemoteAddr" -> from;
                        default -> throw new UnsupportedOperationException(method.getName());
                    });
        }
    }
}
