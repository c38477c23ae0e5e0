package duskpeg.server;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType.LaunchOptions;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Page.ScreenshotOptions;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.Playwright.CreateOptions;
import com.microsoft.playwright.options.Cookie;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Tell;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** A night and a morning in a real browser: texts from the built-in phone, and the board that follows them. */
class BrowserTest {

    private static final List<Integer> WIDTHS = List.of(390, 1024, 1920);
    private static final int HEIGHT = 900;
    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String MORNING = "2026-11-26T07:30:00+02:00";

    private static TestFarm farm;
    private static Playwright playwright;
    private static Browser browser;

    @BeforeAll
    static void open() {
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
        farm = new TestFarm(Engine.H2);
        playwright = Playwright.create(new CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        browser = playwright
                .chromium()
                .launch(new LaunchOptions()
                        .setExecutablePath(chromium.get())
                        .setArgs(List.of(
                                "--no-sandbox",
                                "--disable-gpu",
                                "--disable-quic",
                                "--no-first-run",
                                "--disable-background-networking",
                                "--disable-component-update",
                                "--disable-sync")));
    }

    @AfterAll
    static void close() {
        Stream.of(browser, playwright, farm).filter(one -> one != null).forEach(one -> {
            try {
                one.close();
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        });
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

    /** A visitor whose clock shows that time. */
    private static BrowserContext visitor(String time, int width) {
        BrowserContext visitor = browser.newContext(new Browser.NewContextOptions().setViewportSize(width, HEIGHT));
        long ahead = Duration.between(Instant.now(), OffsetDateTime.parse(time).toInstant())
                .toSeconds();
        visitor.addCookies(List.of(new Cookie(DemoClockFilter.COOKIE, Long.toString(ahead)).setUrl(farm.address("/"))));
        return visitor;
    }

    private static void shoot(Page page, String name) {
        page.screenshot(new ScreenshotOptions()
                .setFullPage(true)
                .setPath(Path.of("target", "screenshots", name + "-" + page.viewportSize().width + ".png")));
    }

    private static void text(Page phone, String worker, String words) {
        phone.locator("[data-who]").selectOption(TestFarm.PHONES.get(worker));
        phone.locator("[data-words]").fill(words);
        phone.locator("[data-send]").click();
    }

    private static Locator answers(Page phone) {
        return phone.getByLabel("Texts sent and answers");
    }

    @Test
    void aNightAndAMorningFromThePhoneToTheBoard() {
        try (BrowserContext evening = visitor(EVENING, 390);
                BrowserContext shed = visitor(MORNING, 1920);
                BrowserContext row = visitor(MORNING, 390)) {
            Page phone = evening.newPage();
            phone.navigate(farm.address("/phone"));
            text(phone, "Nomsa", "1 12 14 m 28");
            assertThat(answers(phone)).containsText("Row 12: 14 pegged for 26 Nov. Males 28 of 28.");
            text(phone, "Nomsa", "1 13 9 m 15");
            assertThat(answers(phone)).containsText("MALES: 15 for 9 females, 3 short.");

            Page board = shed.newPage();
            board.navigate(farm.address("/board"));
            assertThat(board.locator("#row-12 .c-left")).containsText("14 left");
            assertThat(board.locator("[data-live]")).containsText("Live");
            assertThat(board.getByText("15 males pegged for 9 females: 3 short"))
                    .isVisible();

            Page inTheRow = row.newPage();
            inTheRow.navigate(farm.address("/phone"));
            text(inTheRow, "Nomsa", "2345 12 6");
            assertThat(answers(inTheRow)).containsText("tied 004700-004705");
            // The board was not touched: the change came by itself.
            assertThat(board.locator("#row-12 .c-left")).containsText("8 left");

            inTheRow.navigate(farm.address("/fruit/004703"));
            assertThat(inTheRow.locator("h1")).containsText("004703");
            assertThat(inTheRow.locator("main")).containsText("1 12 14 m 28");
            assertThat(inTheRow.locator("main")).containsText("2345 12 6");
        }
        for (int width : WIDTHS) {
            try (BrowserContext visitor = visitor(MORNING, width)) {
                Page page = visitor.newPage();
                for (String name : List.of("board", "phone", "outbox", "fruit/004703", "")) {
                    page.navigate(farm.address("/" + name));
                    assertThat(page.locator("main")).isVisible();
                    shoot(page, name.isEmpty() ? "home" : name.replace('/', '-'));
                    assertNoSidewaysScroll(page);
                }
            }
        }
    }

    @Test
    void whatAWorkerIsToldComesToHerPhoneByItselfOnce() {
        try (BrowserContext row = visitor(MORNING, 390)) {
            Page phone = row.newPage();
            phone.navigate(farm.address("/phone"));
            phone.locator("[data-who]").selectOption(TestFarm.PHONES.get("Lerato"));
            tell("row 14 is yours");
            assertThat(answers(phone)).containsText("Ruth: row 14 is yours");
            tell("row 15 too");
            assertThat(answers(phone)).containsText("Ruth: row 15 too");
            assertThat(answers(phone).locator("li")).hasCount(2);

            // STOP holds the next one, and the page of texts lets a person decide.
            text(phone, "Lerato", "STOP");
            assertThat(answers(phone)).containsText("No more texts come by themselves.");
            tell("row 16 is left");
            Page texts = row.newPage();
            texts.navigate(farm.address("/outbox"));
            assertThat(texts.locator(".stands")).containsText("row 16 is left");
            for (int width : WIDTHS) {
                texts.setViewportSize(width, HEIGHT);
                shoot(texts, "outbox-to-decide");
                assertNoSidewaysScroll(texts);
            }
            texts.getByLabel("Drop the text to Lerato").click();
            assertThat(texts.locator(".stands")).hasCount(0);
            assertThat(texts.locator("main")).containsText("dropped");
        }
    }

    private static void tell(String words) {
        farm.bean(CommandGateway.class)
                .sendAndWait(new Tell(
                        new WorkerId(new FarmId("marrowfield"), "w3"),
                        "told.from",
                        Map.of("name", "Ruth", "words", words),
                        words,
                        OffsetDateTime.parse(MORNING).toInstant()));
    }

    @Test
    void aCallFromThePhoneIsReadBackConfirmedAndAnswered() {
        for (int width : List.of(390, 1024)) {
            String row = width == 390 ? "5" : "6";
            try (BrowserContext evening = visitor(EVENING, width)) {
                Page phone = evening.newPage();
                phone.navigate(farm.address("/phone"));
                phone.locator("[data-who]").selectOption(TestFarm.PHONES.get("Nomsa"));
                phone.getByText("Call the farm").click();
                Locator said = phone.getByLabel("What is said on the call");
                assertThat(said).containsText("Duskpeg. Key your report, then hash.");

                for (String key : ("1*" + row + "*14*28").split("")) {
                    phone.locator("[data-key='" + key.replace('*', ' ') + "']").click();
                }
                assertThat(phone.getByLabel("Keyed so far")).hasText("1*" + row + "*14*28");
                shoot(phone, "call-keyed");
                phone.locator("[data-send]").click();
                assertThat(said).containsText("Pegged, row " + row + ", 14 flowers, 28 males.");
                shoot(phone, "call");
                assertNoSidewaysScroll(phone);

                // The computer's own keys are keys of the call too.
                phone.keyboard().press("1");
                assertThat(said).containsText("Row " + row + ": 14 pegged for 26 Nov. Males 28 of 28.");
                phone.getByText("Hang up").click();
                shoot(phone, "call-over");
                phone.getByText("Back to texts").click();
                text(phone, "Nomsa", "9 " + row);
                assertThat(answers(phone)).containsText("Row " + row + ", 26 Nov: 14 pegged");
            }
        }
    }

    private static void assertNoSidewaysScroll(Page page) {
        Object tooWide = page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth");
        org.assertj.core.api.Assertions.assertThat(tooWide).as(page.url()).isEqualTo(false);
    }

    @Test
    void theBoardComesBackByItselfAfterTheLineWasCut() {
        try (BrowserContext shed = visitor(MORNING, 1024)) {
            farm.at(EVENING).text("Pieter", "1 20 5 m 10");
            Page board = shed.newPage();
            board.navigate(farm.address("/board"));
            assertThat(board.locator("#row-20 .c-left")).containsText("5 left");
            assertThat(board.locator("[data-live]")).containsText("Live");

            shed.setOffline(true);
            board.evaluate("document.querySelector('[sse-connect]')['htmx-internal-data'].sseEventSource.close()");
            farm.at(MORNING).text("Pieter", "2345 20 2");
            shed.setOffline(false);
            board.evaluate("document.querySelector('[sse-connect]')['htmx-internal-data'].sseEventSource"
                    + ".dispatchEvent(new Event('error'))");

            assertThat(board.locator("#row-20 .c-left")).containsText("3 left");
        }
    }
}
