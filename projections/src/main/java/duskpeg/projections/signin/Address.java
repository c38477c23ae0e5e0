package duskpeg.projections.signin;

import jakarta.servlet.http.HttpServletRequest;
import java.util.Arrays;

/** From where a request comes, as far as it is counted. */
final class Address {

    private static final int NETWORK = 4;

    private Address() {}

    /** The IPv4 address; of an IPv6 address the first 64 bits, since whoever has one has all those behind them. */
    static String of(HttpServletRequest request) {
        String address = request.getRemoteAddr();
        String[] groups = address.split(":", -1);
        return groups.length <= NETWORK
                ? address
                : String.join(":", Arrays.asList(groups).subList(0, NETWORK));
    }
}
