package io.loopwarden.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.vertx.core.json.JsonObject;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.Keys;

/** What people come to the pages for, done in a real browser; holds for any fleet with live figures. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
abstract class MainTasks {

    private static final Pattern PERCENT = Pattern.compile("(\\d+(?:\\.\\d+)?) ±");

    ServiceUnderTest service;
    Browser browser;

    /** Starts what is to be tested; it is closed after the last test. */
    abstract ServiceUnderTest start();

    @BeforeAll
    void open() {
        service = start();
        browser = new Browser();
    }

    @AfterAll
    void close() {
        browser.close();
        service.close();
    }

    @AfterEach
    void noComplaints() {
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theWorstUnitIsFoundOpenedAndItsReserveRead() {
        openFleet();
        String worst = browser.text("a#least-unit[href]");
        String words = browser.text("#least-words");
        String function = words.replaceFirst(".*reserve: (.*) at .*", "$1").replace(' ', '-');
        double share = percent(words);
        assertThat(share).isCloseTo(100 * reserveOf(worst, function), within(3.0)); // live figures move meanwhile

        browser.shown("#least-unit").click();

        browser.awaitText("#unit-id", worst);
        String block = "[data-function=" + function + "]";
        assertThat(percent(browser.text(block + " .block-value"))).isCloseTo(share, within(3.0));
        assertThat(browser.text("#headline")).isNotBlank();
        browser.shown(block + " .spark svg");
    }

    @Test
    void aLiveValueChangesWithoutLoadingThePageAgain() {
        String unit = openFleet();
        browser.open(service.address().resolve("unit.html?id=" + unit));
        String values = "#points td.value";
        browser.shown(values);
        List<String> before = browser.texts(values);
        browser.run("window.marked = true");

        browser.await("a new value", () -> !browser.texts(values).equals(before));

        assertThat(browser.run("return window.marked")).isEqualTo(true);
    }

    @Test
    void aServiceThatGoesAwayIsSaidAndItsReturnIsNoticed() {
        openFleet();

        service.goAway();
        try {
            browser.awaitText("#connection", "What you see is from before");
        } finally {
            service.comeBack();
        }

        browser.awaitGone("#connection");
    }

    @Test
    void aUnitIsFoundAndReadWithTheKeyboardAlone() {
        String unit = openFleet();
        browser.type("/");
        browser.type(unit);
        browser.await("the unit in the address", () -> browser.address().contains("q=" + unit));
        browser.type(Keys.ARROW_DOWN);
        browser.type(Keys.ENTER);
        browser.awaitText("#unit-id", unit);
        browser.tabTo("#choose-flow");
        browser.tabTo("#span");
    }

    @Test
    void arrowsMoveFromRowToRowAndBackFromAUnitFindsTheSameRow() {
        openFleet();
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
    void aNewUnitWithASwappedPairOfSensorsIsToldBeforeItIsSaved() {
        browser.open(service.address().resolve("help.html"));
        browser.signIn(service.cookie());
        browser.open(service.address().resolve("units.html"));
        browser.await("a connection by MQTT", () -> browser.run("""
                const line = document.getElementById('line');
                const json = [...line.options].find(each => each.textContent.includes('mqtt-json'));
                if (!json || !document.querySelector('#nameplate option[value="quillmere-1400"]')) return false;
                line.value = json.value;
                line.dispatchEvent(new Event('change'));
                document.getElementById('nameplate').value = 'quillmere-1400';
                return true;"""));
        browser.shown("#look [type=submit]").click();
        browser.shown("#found input").click();
        String supply = "[data-field=pT_TCS_SUP]";
        browser.await("a proposal", () -> browser.count(supply) == 1);
        assertThat(browser.run("return document.querySelector(arguments[0]).value", supply))
                .isEqualTo("tcs.supply.temperature");
        // A source may really count the other way; what is proposed to mend that is taken.
        browser.await("nothing left to mend", () -> browser.run("""
                const mend = document.querySelector('.finding button');
                if (mend) mend.click();
                return !document.querySelector('.finding');"""));

        browser.run("""
                const select = document.querySelector(arguments[0]);
                select.value = 'tcs.return.temperature';
                select.dispatchEvent(new Event('change'));""", supply);

        browser.awaitText(".finding", "supply and return are likely swapped");
        browser.shown("#save [type=submit]").click();
        browser.awaitText("#save-said", "Mend what physics speaks against");
        browser.shown(".finding button").click();
        browser.awaitText("#findings", "Nothing speaks against it");
        browser.signOut();
    }

    @ParameterizedTest(name = "{0}, {1}, {2} px")
    @CsvSource({
        "'', light, 1440",
        "'', dark, 390",
        "unit.html?id={unit}, light, 390",
        "unit.html?id={unit}, dark, 1440",
        "'trends.html?units={unit}&show=approach,tcs.flow&span=1h', light, 390",
        "'trends.html?units={unit}&show=approach,tcs.flow&span=1h', dark, 1440",
        "maintenance.html, light, 390",
        "alarms.html, dark, 390",
        "alarm.html?id={unit}/tray-wet, light, 390",
        "alarm-figures.html, dark, 390",
        "alarm-trial.html, light, 390",
        "on-call.html, dark, 390",
        "maintenance.html, dark, 1440",
        "compare.html, light, 1440",
        "compare.html, dark, 390",
        "evidence.html?unit={unit}, light, 1440",
        "evidence.html?unit={unit}, dark, 390",
        "units.html, light, 390",
        "units.html, dark, 1440",
        "data-quality.html, light, 390",
        "data-quality.html, dark, 1440",
        "help.html, light, 1440",
        "help.html, dark, 390",
    })
    void accessibleAndNoWiderThanTheScreen(String page, String colours, int width) {
        browser.size(width, 900);
        browser.colours(colours);
        String unit = openFleet();
        browser.signIn(service.cookie());
        browser.open(service.address().resolve(page.replace("{unit}", unit)));
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
            browser.signOut();
        }
    }

    /** Opens the fleet page, waits for its rows, and answers the first unit. */
    String openFleet() {
        browser.open(service.address());
        return browser.text("#rows [role=row] a");
    }

    /** What the service itself answers. */
    private double reserveOf(String unit, String function) {
        HttpRequest request = HttpRequest.newBuilder(service.address().resolve("api/v1/units/" + unit))
                .build();
        try {
            String body = HttpClient.newHttpClient()
                    .send(request, HttpResponse.BodyHandlers.ofString())
                    .body();
            return new JsonObject(body)
                    .getJsonArray("functions").stream()
                            .map(JsonObject.class::cast)
                            .filter(each -> each.getString("function").equals(function))
                            .mapToDouble(each -> each.getJsonObject("reserve").getDouble("value"))
                            .findFirst()
                            .orElseThrow();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }

    private static double percent(String text) {
        return PERCENT.matcher(text)
                .results()
                .map(found -> Double.parseDouble(found.group(1)))
                .findFirst()
                .orElseThrow(() -> new AssertionError("no percentage with a band in: " + text));
    }
}
