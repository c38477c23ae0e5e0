package duskpeg.server;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static duskpeg.server.TestBrowser.assertNoSidewaysScroll;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Tell;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Map;
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
    private static TestBrowser browser;

    @BeforeAll
    static void open() {
        browser = TestBrowser.open();
        farm = new TestFarm(Engine.H2);
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

    private static BrowserContext visitor(String time, int width) {
        return browser.visitor(farm, time, width, HEIGHT);
    }

    private static void shoot(Page page, String name) {
        TestBrowser.shoot(page, name + "-" + page.viewportSize().width);
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

            text(inTheRow, "Nomsa", "pgd 12 6");
            text(inTheRow, "Nomsa", "2 12 11\nhello");
            inTheRow.navigate(farm.address("/fruit/004703"));
            assertThat(inTheRow.locator("h1")).containsText("004703");
            assertThat(inTheRow.locator("main")).containsText("1 12 14 m 28");
            assertThat(inTheRow.locator("main")).containsText("2345 12 6");
        }
        for (int width : WIDTHS) {
            try (BrowserContext visitor = visitor(MORNING, width)) {
                Page page = visitor.newPage();
                for (String name : List.of("board", "phone", "fruit/004703", "inbox", "outbox", "export", "")) {
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
