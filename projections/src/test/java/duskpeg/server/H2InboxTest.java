package duskpeg.server;

final class H2InboxTest extends InboxTest {
    H2InboxTest() {
        super(Engine.H2);
    }
}
