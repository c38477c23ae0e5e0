package duskpeg.server;

final class PostgresqlInboxTest extends InboxTest {
    PostgresqlInboxTest() {
        super(Engine.POSTGRESQL);
    }
}
