package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType.LaunchOptions;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Page.ScreenshotOptions;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.Playwright.CreateOptions;
import com.microsoft.playwright.options.Cookie;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A real browser. */
final class TestBrowser implements AutoCloseable {

    private final Playwright playwright;
    private final Browser browser;

    private TestBrowser(Path chromium) {
        playwright = Playwright.create(new CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        browser = playwright
                .chromium()
                .launch(new LaunchOptions()
                        .setExecutablePath(chromium)
                        .setArgs(List.of(
                                "--no-sandbox",
                                "--disable-gpu",
                                "--disable-quic",
                                "--no-first-run",
                                "--disable-background-networking",
                                "--disable-component-update",
                                "--disable-sync")));
    }

    /** Opens it; where there is none, the tests are skipped and say so. */
    static TestBrowser open() {
        Optional<Path> chromium = chromium();
        if (chromium.isEmpty()) {
            if (Boolean.parseBoolean(System.getenv("DUSKPEG_BROWSER_REQUIRED"))) {
                throw new AssertionError("No Chromium on the path, and the browser tests are required to run");
            }
            System.err.println("""

                    ****************************************************************
                    *  SKIPPED: the browser tests. No Chromium was found.          *
                    *  Install one, or give its place in the variable CHROMIUM.    *
                    ****************************************************************
                    """);
            assumeTrue(false, "no Chromium on this machine");
        }
        return new TestBrowser(chromium.orElseThrow());
    }

    private static Optional<Path> chromium() {
        List<String> places = new ArrayList<>();
        Optional.ofNullable(System.getenv("CHROMIUM")).ifPresent(places::add);
        for (String folder : System.getenv().getOrDefault("PATH", "").split(":")) {
            places.add(folder + "/chromium");
            places.add(folder + "/chromium-browser");
            places.add(folder + "/google-chrome");
        }
        return places.stream().map(Path::of).filter(Files::isExecutable).findFirst();
    }

    /** A visitor of the farm whose clock shows that time. */
    BrowserContext visitor(TestFarm farm, String time, int width, int height) {
        return visitor(farm, time, new Browser.NewContextOptions().setViewportSize(width, height));
    }

    BrowserContext visitor(TestFarm farm, String time, Browser.NewContextOptions options) {
        BrowserContext visitor = browser.newContext(options);
        long ahead = Duration.between(Instant.now(), OffsetDateTime.parse(time).toInstant())
                .toSeconds();
        visitor.addCookies(List.of(new Cookie(DemoClockFilter.COOKIE, Long.toString(ahead)).setUrl(farm.address("/"))));
        return visitor;
    }

    /** Keeps a picture of the whole page. */
    static void shoot(Page page, String name) {
        page.screenshot(
                new ScreenshotOptions().setFullPage(true).setPath(Path.of("target", "screenshots", name + ".png")));
    }

    static void assertNoSidewaysScroll(Page page) {
        Object tooWide = page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth");
        assertThat(tooWide).as(page.url()).isEqualTo(false);
    }

    @Override
    public void close() {
        browser.close();
        playwright.close();
    }
}
