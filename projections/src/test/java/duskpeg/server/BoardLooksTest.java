package duskpeg.server;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static duskpeg.server.TestBrowser.assertNoSidewaysScroll;
import static duskpeg.server.TestBrowser.shoot;
import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.deque.html.axecore.results.Rule;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator.WaitForOptions;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.Media;
import com.microsoft.playwright.options.WaitForSelectorState;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The board in a real browser: on a phone, a desk and a wall, by day and by dark, for eyes, keys and screen readers. */
class BoardLooksTest {

    private static final String EVENING = "2026-11-26T17:10:00+02:00";
    private static final String MORNING = "2026-11-26T07:30:00+02:00";
    private static final List<Integer> WIDTHS = List.of(390, 1024, 1920);

    private static TestFarm farm;
    private static TestBrowser browser;

    @BeforeAll
    static void open() {
        browser = TestBrowser.open();
        farm = new TestFarm(Engine.H2).at("2026-11-25T17:10:00+02:00");
        for (int row = 1; row <= 14; row++) {
            farm.text(row % 2 == 0 ? "Nomsa" : "Pieter", "1 " + row + " " + (5 + row) + " m " + (12 + 2 * row));
        }
        farm.text("Lerato", "1 17 90 m 180");
        farm.text("Lerato", "1 22 6 m 9");
        farm.text("Lerato", "hello");
        for (int turn = 0; turn < 6; turn++) {
            farm.at("2026-11-26T06:" + (10 + 8 * turn) + ":00+02:00");
            farm.text("Nomsa", "2345 " + (2 + 2 * (turn / 2)) + " 4");
            farm.text("Pieter", "2345 " + (1 + 2 * (turn / 2)) + " 3");
        }
        farm.at("2026-11-26T06:57:00+02:00").text("Lerato", "8 22 1 torn");
        farm.at(EVENING);
        farm.text("Nomsa", "1 3 11 m 22");
        farm.text("Pieter", "1 4 7 m 12");
        farm.awaitProjections();
    }

    @AfterAll
    static void close() {
        if (farm != null) {
            farm.close();
        }
        if (browser != null) {
            browser.close();
        }
    }

    private static BrowserContext visitor(String time, int width, ColorScheme scheme) {
        return browser.visitor(
                farm,
                time,
                new Browser.NewContextOptions()
                        .setViewportSize(width, width == 1920 ? 1080 : 900)
                        .setColorScheme(scheme));
    }

    @Test
    void aNightAndAMorningOnEveryScreen() {
        for (int width : WIDTHS) {
            try (BrowserContext evening = visitor(EVENING, width, ColorScheme.DARK);
                    BrowserContext morning = visitor(MORNING, width, ColorScheme.LIGHT)) {
                see(evening.newPage(), "/board", "board-evening-dark-" + width);
                see(evening.newPage(), "/plan", "plan-evening-dark-" + width);
                Page page = morning.newPage();
                see(page, "/board", "board-morning-" + width);
                assertThat(page.locator("#cell-17")).containsText("at risk");
                see(page, "/board?at=06:30", "board-played-" + width);
                see(page, "/board/moves", "moves-" + width);
                see(page, "/alerts", "alerts-" + width);
                see(page, "/plan?morning=2026-11-27", "plan-" + width);
                if (width == 390) {
                    see(page, "/board/mornings", "mornings-" + width);
                } else {
                    see(page, "/board?view=wall", "wall-" + width);
                    Object scrolls = page.evaluate("document.documentElement.scrollHeight > window.innerHeight");
                    assertThat(scrolls).as("the big screen at " + width).isEqualTo(false);
                }
            }
        }
        try (BrowserContext desk = visitor(MORNING, 1024, ColorScheme.LIGHT)) {
            Page page = desk.newPage();
            page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
            page.setViewportSize(720, 900);
            see(page, "/board", "board-printed");
        }
    }

    private static void see(Page page, String path, String name) {
        page.navigate(farm.address(path));
        assertThat(page.locator("main")).isVisible();
        if (page.locator("[data-live]").count() > 0) {
            assertThat(page.locator("[data-live]")).hasText("Live");
        }
        shoot(page, name);
        assertNoSidewaysScroll(page);
    }

    @Test
    void everyPageIsFreeOfWhatAxeFinds() {
        List<String> found = new ArrayList<>();
        try (BrowserContext visitor = visitor(MORNING, 390, ColorScheme.LIGHT)) {
            Page page = visitor.newPage();
            for (String path : List.of(
                    "/board",
                    "/board?view=wall",
                    "/board?at=06:30",
                    "/board/mornings",
                    "/board/moves",
                    "/",
                    "/fruit/004700",
                    "/strips",
                    "/inbox",
                    "/outbox",
                    "/phone",
                    "/plan",
                    "/alerts")) {
                // A scheme changes only colours, a width only what is beside what: the other two add next to nothing.
                look(page, path, 390, ColorScheme.LIGHT, found);
                look(page, path, 1024, ColorScheme.DARK, found);
            }
        }
        assertThat(found).isEmpty();
    }

    /** In the page itself, which has no frames: many times faster than on a page of its own. */
    @SuppressWarnings("deprecation")
    private static AxeBuilder axe(Page page) {
        return new AxeBuilder(page).setLegacyMode(true);
    }

    private static void look(Page page, String path, int width, ColorScheme scheme, List<String> found) {
        page.setViewportSize(width, 900);
        page.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(scheme));
        if (!page.url().equals(farm.address(path))) {
            page.navigate(farm.address(path));
            assertThat(page.locator("main")).isVisible();
        }
        for (Rule violation : axe(page).analyze().getViolations()) {
            violation
                    .getNodes()
                    .forEach(node -> found.add(path + " at " + width + " " + scheme + ": " + violation.getId() + ", "
                            + violation.getHelp() + ": " + node.getHtml()));
        }
    }

    @Test
    void aMorningIsPlayedBackWithTheKeysAndWithoutScripts() {
        try (BrowserContext desk = visitor(MORNING, 1024, ColorScheme.LIGHT)) {
            Page page = desk.newPage();
            page.navigate(farm.address("/board?morning=2026-11-26&at=06:30"));
            assertThat(page.locator(".known")).containsText("As known at 06:30");
            assertThat(page.locator("[data-live]")).hasCount(0);
            assertThat(page.locator("#row-2 .c-left")).containsText("done");
            assertThat(page.locator("#row-4 .c-left")).containsText("5 left");
            page.locator("#slide").focus();
            for (int minute = 0; minute < 5; minute++) {
                page.keyboard().press("ArrowLeft");
            }
            assertThat(page.locator(".known")).containsText("As known at 06:25");
            assertThat(page.locator("#row-4 .c-left")).containsText("9 left");
            assertThat(page.locator("#at")).hasValue("06:25");
            assertThat(page).hasURL(Pattern.compile(".*at=06%3A25"));
        }
        try (BrowserContext plain = browser.visitor(
                farm,
                MORNING,
                new Browser.NewContextOptions().setJavaScriptEnabled(false).setViewportSize(390, 900))) {
            Page page = plain.newPage();
            page.navigate(farm.address("/board"));
            page.locator("#at").fill("06:30");
            page.locator("#at").press("Enter");
            assertThat(page.locator(".known")).containsText("As known at 06:30");
            page.getByText("All that is known now").click();
            assertThat(page.locator(".known")).hasCount(0);
            page.getByText("Whom to move?").click();
            assertThat(page.locator("h1")).containsText("Whom to move");
        }
    }

    @Test
    void theMapLeadsToTheRowAndWhatIsUnfoldedStaysSo() {
        try (BrowserContext desk = visitor(MORNING, 1024, ColorScheme.LIGHT)) {
            Page page = desk.newPage();
            page.navigate(farm.address("/board"));
            assertThat(page.locator("[data-live]")).containsText("Live");
            page.locator("#numbers-open").click();
            page.locator("#cell-21").waitFor(new WaitForOptions().setState(WaitForSelectorState.DETACHED));
            farm.at("2026-11-25T19:00:00+02:00").text("Ruth", "1 21 5 m 10");
            assertThat(page.locator("#cell-21")).containsText("5 left");
            assertThat(page.locator("#numbers")).hasAttribute("open", "");
            page.locator("#cell-21").press("Enter");
            assertThat(page).hasURL(farm.address("/board#row-21"));
        }
    }
}
