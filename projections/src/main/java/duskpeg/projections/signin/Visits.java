package duskpeg.projections.signin;

import duskpeg.core.act.Seal;
import jakarta.servlet.http.Cookie;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.security.SecureRandom;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.ResponseCookie;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Who is signed in, as a table: every node knows it, and a restart signs nobody out. The cookie is 128 random bits, of
 * which the table has the SHA-256.
 */
@Component
class Visits {

    private static final String COOKIE = "duskpeg";
    private static final String SELECT = "select token, account, stamp, since, last, proved, network from visit where ";
    private static final int BYTES = 16;

    /** Somebody who is there is noted so often and not at each request. */
    private static final Duration NOTED_EVERY = Duration.ofMinutes(1);

    private final JdbcClient jdbc;
    private final SecureRandom random = new SecureRandom();

    Visits(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /**
     * A session.
     *
     * @param token the SHA-256 of what the cookie says
     * @param stamp the account's at the time
     * @param since when it was begun
     * @param last when a person was last seen to be there, to a minute
     * @param proved when the password was given last
     * @param network from where it was begun, without the last part of the address; null where that was not noted
     */
    record Visit(
            String token,
            long account,
            int stamp,
            Instant since,
            Instant last,
            Instant proved,
            @Nullable String network) {}

    /** Begins a session under an id that nobody could know before, and ends the one there was. */
    void begin(HttpServletRequest request, HttpServletResponse response, Account account, Instant now) {
        token(request).ifPresent(this::end);
        // Nobody comes back to those, and they are to be no heap.
        jdbc.sql("delete from visit where since < ?")
                .param(time(now.minus(SignedIn.LONGEST)))
                .update();
        byte[] drawn = new byte[BYTES];
        random.nextBytes(drawn);
        String value = HexFormat.of().formatHex(drawn);
        jdbc.sql("insert into visit (token, account, stamp, since, last, proved, network) values (?, ?, ?, ?, ?, ?, ?)")
                .params(
                        Seal.of("", value),
                        account.id(),
                        account.stamp(),
                        time(now),
                        time(now),
                        time(now),
                        Address.network(Address.of(request)))
                .update();
        response.addHeader(HttpHeaders.SET_COOKIE, cookie(request, value, null));
    }

    /** Ends the session, if there is one. */
    void end(HttpServletRequest request, HttpServletResponse response) {
        token(request).ifPresent(token -> {
            end(token);
            response.addHeader(HttpHeaders.SET_COOKIE, cookie(request, "", Duration.ZERO));
        });
    }

    private void end(String token) {
        jdbc.sql("delete from visit where token = ?").param(token).update();
    }

    /** The session of that request, ended by time or not. */
    Optional<Visit> of(HttpServletRequest request) {
        return token(request).flatMap(this::find);
    }

    /**
     * The session of that token, ended by time or not.
     *
     * @param token the SHA-256 of what its cookie says
     */
    Optional<Visit> find(String token) {
        return jdbc.sql(SELECT + "token = ?").param(token).query(Visits::visit).optional();
    }

    /** The sessions of an account that have not ended, whoever was seen last first. */
    List<Visit> of(Account account, Instant now) {
        return jdbc.sql(SELECT + "account = ? and stamp = ? and since > ? and last > ? order by last desc, since desc")
                .params(
                        account.id(),
                        account.stamp(),
                        time(now.minus(SignedIn.LONGEST)),
                        time(now.minus(SignedIn.IDLE)))
                .query(Visits::visit)
                .list();
    }

    private static Visit visit(ResultSet row, int number) throws SQLException {
        return new Visit(
                row.getString(1),
                row.getLong(2),
                row.getInt(3),
                row.getObject(4, OffsetDateTime.class).toInstant(),
                row.getObject(5, OffsetDateTime.class).toInstant(),
                row.getObject(6, OffsetDateTime.class).toInstant(),
                row.getString(7));
    }

    /**
     * Ends a session of that account.
     *
     * @param token the SHA-256 of what its cookie says
     * @return whether there was one
     */
    boolean end(Account account, String token) {
        return jdbc.sql("delete from visit where token = ? and account = ?")
                        .params(token, account.id())
                        .update()
                > 0;
    }

    /** Whether the password was given just now; a clock that was set back shows nothing. */
    boolean isProved(HttpServletRequest request, Instant now) {
        return of(request)
                .map(visit -> Duration.between(visit.proved(), now))
                .filter(since -> !since.isNegative() && since.compareTo(SignedIn.PROVED) < 0)
                .isPresent();
    }

    /** The password was given once more. */
    void prove(HttpServletRequest request, Instant now) {
        token(request)
                .ifPresent(token -> jdbc.sql("update visit set proved = ? where token = ?")
                        .params(time(now), token)
                        .update());
    }

    /** Notes that a person is there. */
    void seen(Visit visit, Instant now) {
        if (!now.isBefore(visit.last().plus(NOTED_EVERY))) {
            jdbc.sql("update visit set last = ? where token = ?")
                    .params(time(now), visit.token())
                    .update();
        }
    }

    /** Ends that session. */
    void end(Visit visit) {
        end(visit.token());
    }

    private static Optional<String> token(HttpServletRequest request) {
        Cookie[] cookies = request.getCookies();
        return cookies == null
                ? Optional.empty()
                : Stream.of(cookies)
                        .filter(cookie -> cookie.getName().equals(COOKIE))
                        .map(cookie -> Seal.of("", cookie.getValue()))
                        .findFirst();
    }

    /** No script reads it and no other site's form brings it along; behind TLS it goes over TLS only. */
    private static String cookie(HttpServletRequest request, String value, @Nullable Duration lasts) {
        ResponseCookie.ResponseCookieBuilder cookie = ResponseCookie.from(COOKIE, value)
                .path("/")
                .httpOnly(true)
                .sameSite("Lax")
                .secure(request.isSecure());
        return (lasts == null ? cookie : cookie.maxAge(lasts)).build().toString();
    }

    private static OffsetDateTime time(Instant at) {
        return at.atOffset(ZoneOffset.UTC);
    }
}
