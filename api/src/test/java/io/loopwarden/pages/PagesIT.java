package io.loopwarden.pages;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.Keys;

/** What people come to the pages for, done in a real browser. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PagesIT {

    private ServiceUnderTest service;
    private Browser browser;

    @BeforeAll
    void start() {
        service = new PretendService(24, 0);
        browser = new Browser();
    }

    @AfterAll
    void stop() {
        browser.close();
        service.close();
    }

    @AfterEach
    void noComplaints() {
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theWorstUnitIsFoundOpenedAndItsReserveRead() {
        browser.open(service.address());
        browser.awaitText("#headline", "to look at");
        String worst = browser.text("#least-unit");
        String reserve = browser.text("[data-unit='" + worst + "'] .least .reserve");

        browser.shown("[data-unit='" + worst + "'] a").click();

        browser.awaitText("#unit-id", worst);
        assertThat(browser.text("[data-function=heat-transfer] .block-value"))
                .startsWith(reserve.replace(" %", ""))
                .contains("±");
        assertThat(browser.text("#headline")).isNotBlank();
        browser.shown("[data-function=heat-transfer] .spark svg");
    }

    @Test
    void aLiveValueChangesWithoutLoadingThePageAgain() {
        browser.open(service.address().resolve("unit.html?id=E-07"));
        String point = "tr[data-point='tcs.supply.temperature'] .value";
        String before = browser.text(point);
        browser.run("window.marked = true");

        browser.await("a new value", () -> !browser.text(point).equals(before));

        assertThat(browser.run("return window.marked")).isEqualTo(true);
    }

    @Test
    void aServiceThatGoesAwayIsSaidAndItsReturnIsNoticed() {
        browser.open(service.address());
        browser.awaitText("#headline", "to look at");

        service.goAway();
        try {
            browser.awaitText("#connection", "No connection to the service");
        } finally {
            service.comeBack();
        }

        browser.awaitGone("#connection");
    }

    @Test
    void everythingIsReachedWithTheKeyboardAlone() {
        browser.open(service.address());
        browser.awaitText("#headline", "to look at");
        browser.type("/");
        browser.type("e-07");
        browser.awaitText("#count", "1 of");
        browser.type(Keys.ARROW_DOWN);
        browser.type(Keys.ENTER);
        browser.awaitText("#unit-id", "E-07");
        browser.tabTo("#choose-flow");
        browser.tabTo("#span");
    }

    @Test
    void arrowsMoveFromRowToRowAndBackFromAUnitFindsTheSameRow() {
        browser.open(service.address());
        browser.awaitText("#headline", "to look at");
        browser.tabTo("[role=row]");
        browser.type(Keys.ARROW_DOWN);
        browser.type(Keys.END);
        browser.type(Keys.ARROW_UP);
        String unit = (String) browser.run("return document.activeElement.dataset.unit");
        browser.type(Keys.ENTER);
        browser.awaitText("#unit-id", unit);

        browser.run("history.back()");

        browser.await("focus on " + unit, () -> unit.equals(browser.run("return document.activeElement.dataset.unit")));
    }

    @Test
    void aViewIsKeptInTheAddress() {
        browser.open(service.address().resolve("?hall=West&q=level"));
        browser.awaitText("#count", "1 of");
        assertThat(browser.texts("#rows [role=rowheader] a")).containsExactly("W-09");

        browser.shown("#clear").click();

        browser.await("no filter in the address", () -> !browser.address().contains("hall"));
        browser.shown("[data-code=maintenance-required]").click();
        browser.await("the signal in the address", () -> browser.address().endsWith("?signal=maintenance-required"));
    }

    @Test
    void chosenUnitsOfMeasureAreKept() {
        browser.open(service.address().resolve("unit.html?id=E-07"));
        browser.awaitText("tr[data-point='tcs.dp']", "kPa");
        browser.run("""
                const select = document.getElementById('choose-pressure');
                select.value = '[psi]';
                select.dispatchEvent(new Event('change'));""");
        browser.awaitText("tr[data-point='tcs.dp']", "30.75"); // 212 kPa / 6.894757

        browser.open(service.address().resolve("unit.html?id=E-08"));

        browser.awaitText("tr[data-point='tcs.dp']", "psi");
        browser.run("localStorage.clear()");
    }

    @Test
    void doubtIsSaidInWordsWhereTheValueIs() {
        browser.open(service.address().resolve("unit.html?id=E-07"));
        browser.awaitText(".tag[data-point='fws.strainer.dp']", "bad");
        browser.awaitText(".tag[data-point='fws.flow']", "uncertain");
        browser.awaitText(".tag[data-point='tcs.return.pressure']", "stale 3 min");
        browser.awaitText("tr[data-point='rope.wet']", "not received");
        assertThat(browser.count("[data-equipment^='pump.']")).isEqualTo(2);
        assertThat(browser.count("[data-equipment^='exchanger.']")).isEqualTo(3);
        assertThat(browser.count("[data-equipment^='filter.']")).isEqualTo(4);
    }

    @Test
    void whatTheServiceSendsIsNeverReadAsMarkup() {
        browser.open(service.address().resolve("data-quality.html"));
        browser.awaitText("#rejects", "<b>TT-9</b>");
        assertThat(browser.texts("#rejects b")).isEmpty();
    }

    @Test
    void aUnitThatDoesNotExistIsSaid() {
        browser.open(service.address().resolve("unit.html?id=%3Cimg%20src=x%3E"));
        browser.awaitText("#headline", "There is no unit");
        browser.complaints(); // the 404 itself
    }

    @ParameterizedTest(name = "{0}, {1}, {2} px")
    @CsvSource({
        "'', light, 1440",
        "'', dark, 390",
        "unit.html?id=E-07, light, 390",
        "unit.html?id=E-07, dark, 1440",
        "data-quality.html, light, 390",
        "data-quality.html, dark, 1440",
        "help.html, light, 1440",
        "help.html, dark, 390",
    })
    void accessibleAndNoWiderThanTheScreen(String page, String colours, int width) {
        browser.size(width, 900);
        browser.colours(colours);
        browser.open(service.address().resolve(page));
        browser.awaitGone("#no-such-thing, [aria-busy=true]");
        browser.await(
                "content",
                () -> browser.run("return document.querySelector('h1').textContent")
                        .toString()
                        .matches("(?s)(?!Asking|…).*"));
        try {
            List<String> findings = browser.seriousAccessibilityFindings();
            assertThat(findings).isEmpty();
            assertThat((Long) browser.run("return document.documentElement.scrollWidth"))
                    .as("scroll width")
                    .isLessThanOrEqualTo(width);
        } finally {
            browser.size(1440, 900);
            browser.colours("light");
        }
    }

    @Test
    void aThousandUnitsKeepTheDocumentSmall() {
        try (ServiceUnderTest large = new PretendService(1000, 0)) {
            browser.open(large.address());
            browser.awaitText("#headline", "1000 units");
            browser.run("scrollTo(0, document.documentElement.scrollHeight / 2)");
            browser.await(
                    "rows in the middle",
                    () -> browser.run(
                            "return document.querySelector('#rows [role=row]')"
                                    + " && Math.min(...[...document.querySelectorAll('#rows [role=row]')].map(e => +e.ariaRowIndex)) > 400"));
            assertThat(browser.count("#rows [role=row]")).isBetween(10, 60);
            assertThat(browser.run("return document.getElementById('fleet').ariaRowCount"))
                    .isEqualTo("1001");
            browser.open("about:blank");
        }
    }
}
