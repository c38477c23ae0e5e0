package duskpeg.server;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static duskpeg.server.TestBrowser.assertNoSidewaysScroll;
import static duskpeg.server.TestBrowser.shoot;
import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Media;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The pages of what comes after the flowers in a real browser, on a phone and a desk, and printed. */
class SeasonLooksTest {

    private static final String NOW = "2026-11-26T07:30:00+02:00";

    private static final Map<String, String> PAGES = Map.ofEntries(
            Map.entry("season", "/season?year=2025"),
            Map.entry("cull", "/cull?day=2025-12-04"),
            Map.entry("cull-none", "/cull"),
            Map.entry("harvest", "/harvest?day=2026-01-19"),
            Map.entry("harvest-held", "/harvest?day=2026-02-10"),
            Map.entry("lots", "/lots"),
            Map.entry("lot", "/lot/AS-C"),
            Map.entry("lot-then", "/lot/AS-MIX?at=2026-03-01T12:00:00%2B02:00"),
            Map.entry("trace", "/trace?of=AS-MIX.1"),
            Map.entry("figures", "/figures"),
            Map.entry("plantings", "/plantings"),
            Map.entry("bulk", "/bulk?cultivar=Late+Bronze&grams=60"),
            Map.entry("lot-mix", "/lot/LB-MIX"),
            Map.entry("plan-named", "/plan?morning=2025-11-26"),
            Map.entry("pairing", "/pairing?morning=2025-11-26"),
            Map.entry("reckon", "/reckon?what=store&moisture=12&celsius=25&moistureTo=10&celsiusTo=15"),
            Map.entry("night", "/row/9/2025-11-20"),
            Map.entry("fruit-then", "/fruit/004403"),
            Map.entry("people", "/people"),
            Map.entry("auditors", "/auditors"),
            Map.entry("export", "/export"));

    private static TestFarm farm;
    private static TestBrowser browser;

    @BeforeAll
    static void open() {
        browser = TestBrowser.open();
        farm = new TestFarm(Engine.H2);
        farm.bean(DemoSeason.class).play(Instant.parse("2026-11-25T15:00:00Z"));
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

    @Test
    void theyFitAndAreFreeOfWhatAxeFinds() {
        List<String> found = new ArrayList<>();
        for (int width : List.of(390, 1280)) {
            try (BrowserContext visitor = browser.visitor(farm, NOW, width, 900)) {
                Page page = visitor.newPage();
                PAGES.forEach((name, path) -> {
                    page.navigate(farm.address(path));
                    assertThat(page.locator("main h1")).isVisible();
                    shoot(page, name + "-" + width);
                    assertNoSidewaysScroll(page);
                    axe(page)
                            .analyze()
                            .getViolations()
                            .forEach(violation -> violation
                                    .getNodes()
                                    .forEach(node -> found.add(
                                            path + " at " + width + ": " + violation.getId() + ": " + node.getHtml())));
                });
            }
        }
        assertThat(found).isEmpty();
    }

    @SuppressWarnings("deprecation")
    private static AxeBuilder axe(Page page) {
        return new AxeBuilder(page).setLegacyMode(true);
    }

    @Test
    void theListOfTiesIsPrintedWithBoxes() {
        try (BrowserContext desk = browser.visitor(farm, NOW, 720, 900)) {
            Page page = desk.newPage();
            page.navigate(farm.address("/cull?day=2025-12-04"));
            assertThat(page.locator("#row-9 .box").first()).isHidden();
            page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
            assertThat(page.locator("#row-9 .box").first()).isVisible();
            assertThat(page.locator(".of-day")).isHidden();
            shoot(page, "cull-printed");
        }
    }

    @Test
    void aVisitorOfTodayIsLedToTheSeasonBefore() {
        try (BrowserContext phone = browser.visitor(farm, NOW, 390, 900)) {
            Page page = phone.newPage();
            page.navigate(farm.address("/"));
            page.locator(".top nav").getByText("Season").click();
            assertThat(page.locator("h1")).hasText("Season 2025/26");
            page.locator(".later").getByText("Culling").click();
            page.getByText("The season before, as of").click();
            assertThat(page.locator("h2").first()).containsText("due");
            page.locator(".later").getByText("Harvest").click();
            page.getByText("The season before, as of").click();
            assertThat(page.locator("#in")).containsText("Brought in that day");
        }
    }
}
