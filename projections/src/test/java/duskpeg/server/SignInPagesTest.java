package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A farm that is no demo in a real browser: signing in on a phone, and every page under what browsers are told. */
class SignInPagesTest {

    private static final List<String> PAGES = List.of(
            "/",
            "/board",
            "/board?view=wall",
            "/board/mornings",
            "/board/moves",
            "/plan",
            "/alerts",
            "/inbox",
            "/phone",
            "/strips",
            "/strips/4700",
            "/strips/print",
            "/lots",
            "/outbox",
            "/find",
            "/trace",
            "/export",
            "/people",
            "/people/w1",
            "/auditors",
            "/figures",
            "/plantings",
            "/pairing",
            "/bulk",
            "/accounts",
            "/accounts/notes",
            "/second",
            "/api",
            "/password",
            "/fruit/4711",
            "/row/12/2026-11-26",
            "/card/index.html");

    @Test
    void everyPageKeepsToWhatBrowsersAreTold() {
        try (TestBrowser browser = TestBrowser.open();
                SignInFarm farm = new SignInFarm(Engine.H2).withAccounts();
                BrowserContext visitor = browser.visitor(farm.farm, "2026-11-26T07:30:00+02:00", 390, 844)) {
            List<String> refused = new ArrayList<>();
            Page page = visitor.newPage();
            page.onConsoleMessage(said -> {
                if (said.text().contains("Content Security Policy")
                        || said.text().contains("Refused to")) {
                    refused.add(page.url() + ": " + said.text());
                }
            });
            page.navigate(farm.farm.address("/board"));
            assertThat(page.url()).contains("/signin?to=%2Fboard");
            TestBrowser.assertNoSidewaysScroll(page);
            TestBrowser.shoot(page, "signin-390");
            page.getByLabel("Login").fill("owner");
            page.getByLabel("Password").fill(SignInFarm.password("owner"));
            page.locator("main button").click();
            page.waitForURL(farm.farm.address("/board"));
            PlaywrightAssertions.assertThat(page.locator("[data-live]")).containsText("Live");
            for (String path : PAGES) {
                page.navigate(farm.farm.address(path));
                assertThat(page.title()).as(path).doesNotContain("Not done");
            }
            page.navigate(farm.farm.address("/accounts"));
            TestBrowser.assertNoSidewaysScroll(page);
            TestBrowser.shoot(page, "accounts-390");
            page.locator(".out button").click();
            page.waitForURL(farm.farm.address("/signin"));
            assertThat(refused).isEmpty();
        }
    }
}
