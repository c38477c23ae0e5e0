package duskpeg.projections.auditor;

import duskpeg.core.act.Seal;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.projections.auditor.Link.Outcome;
import duskpeg.projections.auditor.Link.Scope;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * The links and every look by them. A token is 128 random bits, so that guessing one is hopeless at any rate; only its
 * SHA-256 is kept, so that who reads the database can't look either.
 */
@Component
class Links {

    private static final int LONGEST_PATH = 60;
    private static final String TOKEN = "[0-9a-f]{32}";

    private final JdbcClient jdbc;

    Links(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /**
     * A look by a link.
     *
     * @param path what was asked for, behind the token
     */
    record Look(Instant at, String path, Outcome outcome) {}

    /**
     * Keeps a new link.
     *
     * @param token 32 random lower-case hex digits
     */
    void make(
            String token,
            FarmId farm,
            Scope scope,
            String about,
            String whom,
            WorkerId by,
            Instant made,
            Instant expires) {
        jdbc.sql("insert into auditor_link (token, farm, scope, about, whom, made_by, made, expires)"
                        + " values (?, ?, ?, ?, ?, ?, ?, ?)")
                .params(
                        Seal.of("", token),
                        farm.value(),
                        scope.word(),
                        about,
                        whom,
                        by.pseudonym(),
                        made.atOffset(ZoneOffset.UTC),
                        expires.atOffset(ZoneOffset.UTC))
                .update();
    }

    /** The link of a token, open or not. */
    Optional<Link> find(String token) {
        return token.matches(TOKEN)
                ? jdbc.sql(SELECT + " where token = ?")
                        .param(Seal.of("", token))
                        .query(Links::link)
                        .optional()
                : Optional.empty();
    }

    /** All links of a farm, the newest first. */
    List<Link> all(FarmId farm) {
        return jdbc.sql(SELECT + " where farm = ? order by id desc")
                .param(farm.value())
                .query(Links::link)
                .list();
    }

    private static final String SELECT =
            "select id, farm, scope, about, whom, made_by, made, expires, withdrawn from auditor_link";

    private static Link link(ResultSet row, int number) throws SQLException {
        FarmId farm = new FarmId(row.getString(2));
        OffsetDateTime withdrawn = row.getObject(9, OffsetDateTime.class);
        return new Link(
                row.getLong(1),
                farm,
                Scope.valueOf(row.getString(3).toUpperCase(Locale.ROOT)),
                row.getString(4),
                row.getString(5),
                new WorkerId(farm, row.getString(6)),
                row.getObject(7, OffsetDateTime.class).toInstant(),
                row.getObject(8, OffsetDateTime.class).toInstant(),
                withdrawn == null ? null : withdrawn.toInstant());
    }

    /**
     * From now on it opens nothing.
     *
     * @return whether that changes anything
     */
    boolean withdraw(FarmId farm, long id, Instant at) {
        return jdbc.sql("update auditor_link set withdrawn = ? where farm = ? and id = ? and withdrawn is null")
                        .params(at.atOffset(ZoneOffset.UTC), farm.value(), id)
                        .update()
                == 1;
    }

    /** Notes a look. */
    void note(Link link, Instant at, String path, Outcome outcome) {
        jdbc.sql("insert into auditor_look (link, looked, path, outcome) values (?, ?, ?, ?)")
                .params(
                        link.id(),
                        at.atOffset(ZoneOffset.UTC),
                        path.substring(0, Math.min(path.length(), LONGEST_PATH)),
                        outcome.word())
                .update();
    }

    /** How often anybody looked by a link. */
    int looks(Link link) {
        return jdbc.sql("select count(*) from auditor_look where link = ?")
                .param(link.id())
                .query(Integer.class)
                .single();
    }

    /** The last looks by a link, the latest first. */
    List<Look> lastLooks(Link link, int most) {
        return jdbc.sql("select looked, path, outcome from auditor_look where link = ? order by look desc"
                        + " fetch first ? rows only")
                .params(link.id(), most)
                .query((row, number) -> new Look(
                        row.getObject(1, OffsetDateTime.class).toInstant(),
                        row.getString(2),
                        Outcome.valueOf(row.getString(3).toUpperCase(Locale.ROOT))))
                .list();
    }
}
