package duskpeg.server;

final class PostgresqlNightTest extends NightTest {
    PostgresqlNightTest() {
        super(Engine.POSTGRESQL);
    }
}
