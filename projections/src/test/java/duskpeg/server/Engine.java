package duskpeg.server;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.UUID;

/** The two database engines that everything is tested on. */
enum Engine {
    H2 {
        @Override
        List<String> settings() {
            return List.of("--duskpeg.data-dir=" + directory());
        }
    },
    POSTGRESQL {
        @Override
        List<String> settings() {
            return List.of(
                    "--spring.datasource.url=" + newDatabase(),
                    "--spring.datasource.username=postgres",
                    "--spring.datasource.password=postgres",
                    "--duskpeg.ledger-seen=" + directory().resolve("ledger.seen"));
        }
    };

    /** The engine of this run of the tests: H2, unless {@code -Dduskpeg.engine=POSTGRESQL} says otherwise. */
    static Engine asked() {
        return valueOf(System.getProperty("duskpeg.engine", H2.name()));
    }

    /** Settings that lead a server to a database of its own, empty the first time. */
    abstract List<String> settings();

    private static Path directory() {
        try {
            return Files.createTempDirectory("duskpeg-test");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String newDatabase() {
        String name = "d" + UUID.randomUUID().toString().replace("-", "");
        try (var connection = Postgres.SERVER.getPostgresDatabase().getConnection();
                var statement = connection.createStatement()) {
            statement.execute("create database " + name);
        } catch (java.sql.SQLException e) {
            throw new IllegalStateException(e);
        }
        return Postgres.SERVER.getJdbcUrl("postgres", name);
    }

    /** A real PostgreSQL, started by the first test that needs it. */
    private static final class Postgres {
        static final EmbeddedPostgres SERVER = start();

        private static EmbeddedPostgres start() {
            try {
                return EmbeddedPostgres.builder().start();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }
}
