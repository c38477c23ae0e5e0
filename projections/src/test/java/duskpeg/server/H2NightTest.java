package duskpeg.server;

final class H2NightTest extends NightTest {
    H2NightTest() {
        super(Engine.H2);
    }
}
