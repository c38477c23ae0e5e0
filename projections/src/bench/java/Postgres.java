import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.List;

/**
 * A PostgreSQL for benches: one that is there, with an empty database, or one started for a while from the binaries that
 * the tests bring along. The latter needs the tests' class path beside the bench's.
 */
final class Postgres implements AutoCloseable {

    private static final String EMBEDDED = "io.zonky.test.db.postgres.embedded.EmbeddedPostgres";

    private final AutoCloseable started;
    private final String url;
    private final String user;
    private final String password;

    private Postgres(AutoCloseable started, String url, String user, String password) {
        this.started = started;
        this.url = url;
        this.user = user;
        this.password = password;
    }

    /**
     * A database by its address, or one of its own.
     *
     * @param url its JDBC address, or {@code embedded}
     */
    static Postgres of(String url, String user, String password) throws Exception {
        if (!url.equals("embedded")) {
            return new Postgres(() -> {}, url, user, password);
        }
        Class<?> embedded = Class.forName(EMBEDDED);
        Object server = embedded.getMethod("start").invoke(null);
        return new Postgres(
                (AutoCloseable) server,
                (String) embedded.getMethod("getJdbcUrl", String.class, String.class)
                        .invoke(server, "postgres", "postgres"),
                "postgres",
                "postgres");
    }

    /**
     * One of its own that forgets nothing it answered for, whatever happens: with {@code fsync} and {@code
     * synchronous_commit}, as PostgreSQL comes. The tests' binaries are started without the latter otherwise.
     */
    static Postgres durable() throws Exception {
        Object builder = Class.forName(EMBEDDED).getMethod("builder").invoke(null);
        for (String setting : List.of("fsync", "synchronous_commit", "full_page_writes")) {
            builder.getClass()
                    .getMethod("setServerConfig", String.class, String.class)
                    .invoke(builder, setting, "on");
        }
        Object server = builder.getClass().getMethod("start").invoke(builder);
        return new Postgres(
                (AutoCloseable) server,
                (String) server.getClass()
                        .getMethod("getJdbcUrl", String.class, String.class)
                        .invoke(server, "postgres", "postgres"),
                "postgres",
                "postgres");
    }

    /** A connection to one of its databases, on a server of its own. */
    Connection connect(String database) throws SQLException {
        return DriverManager.getConnection(of(database), user, password);
    }

    /** The settings that lead a server to one of its databases. */
    List<String> settings(String database) {
        return List.of(
                "--spring.datasource.url=" + of(database),
                "--spring.datasource.username=" + user,
                "--spring.datasource.password=" + password);
    }

    private String of(String database) {
        return url.replaceFirst("/postgres(?=\\?|$)", "/" + database);
    }

    /** The settings that lead a server to it. */
    List<String> settings() {
        return List.of(
                "--spring.datasource.url=" + url,
                "--spring.datasource.username=" + user,
                "--spring.datasource.password=" + password);
    }

    @Override
    public void close() {
        try {
            started.close();
        } catch (Exception e) {
            throw new IllegalStateException(e);
        }
    }
}
