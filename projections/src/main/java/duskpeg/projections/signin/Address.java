package duskpeg.projections.signin;

import jakarta.servlet.http.HttpServletRequest;
import java.util.Arrays;

/** From where a request comes, as far as it is counted. */
final class Address {

    private static final int NETWORK = 4;

    private static final int IPV6_NETWORK = 3;

    private Address() {}

    /** The network of an address: the first three parts of an IPv4 address, the first 48 bits of an IPv6 one. */
    static String network(String address) {
        if (address.contains(":")) {
            String[] groups = address.split(":", -1);
            return String.join(":", Arrays.asList(groups).subList(0, Math.min(IPV6_NETWORK, groups.length))) + "::/48";
        }
        int last = address.lastIndexOf('.');
        return last < 0 ? address : address.substring(0, last) + ".0/24";
    }

    /** The IPv4 address; of an IPv6 address the first 64 bits, since whoever has one has all those behind them. */
    static String of(HttpServletRequest request) {
        String address = request.getRemoteAddr();
        String[] groups = address.split(":", -1);
        return groups.length <= NETWORK
                ? address
                : String.join(":", Arrays.asList(groups).subList(0, NETWORK));
    }
}
