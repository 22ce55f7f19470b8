package io.loopwarden.pages;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.system.Repository;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** The pages before a made-up fleet whose every figure is known. */
class PagesIT extends MainTasks {

    @Override
    ServiceUnderTest start() {
        return new PretendService(24, 0);
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
    void trendsAreLaidOverEachOtherWithWorkAndForecast() {
        browser.open(service.address().resolve("trends.html?units=E-07&show=fouling-resistance&span=90d"));
        browser.awaitText("#headline", "E-07 reaches its limit of fouling resistance in");
        browser.shown(".plot .fan-80");
        browser.shown(".plot-mark");
        browser.type(Keys.TAB);
        browser.tabTo("#add-unit");
        browser.type("e-03", Keys.TAB);
        browser.await("two lines", () -> browser.count("[data-quantity=fouling-resistance] path.plot-line.line-1") > 1);
        assertThat(browser.address()).contains("units=E-07,E-03");
        browser.tabTo(".plot-area");
        browser.type(Keys.ARROW_LEFT);
        browser.awaitText("#cursor", "at 20");
        String before = browser.text("#range");
        browser.type("+");
        browser.await("a closer look", () -> !browser.text("#range").equals(before));
        assertThat(browser.address()).contains("from=").contains("to=");
    }

    @Test
    void aFilterFallsDueAndItsChangeIsWrittenAndWithdrawn() {
        browser.open(service.address().resolve("maintenance.html?unit=E-11"));
        browser.awaitText("#plan tbody tr:nth-child(2)", "Change filter 3");
        assertThat(browser.text("#plan tbody tr:nth-child(2)"))
                .contains("in 26 days")
                .contains("E-11");
        browser.tabTo("#kind");
        browser.type("F");
        browser.await(
                "its parts",
                () -> browser.run("return document.getElementById('part').value")
                        .equals("tcs.filter.1"));
        browser.tabTo("#note");
        browser.type("new element");
        browser.tabTo("#write [type=submit]");
        browser.type(Keys.ENTER);
        browser.awaitText("#said", "Written: filter changed of E-11");
        browser.awaitText("#log tbody tr", "Filter changed, filter 1");
        browser.tabTo("#log tbody tr button");
        browser.type(Keys.ENTER);
        browser.type("wrong unit", Keys.ENTER);
        browser.await("the entry is gone", () -> browser.texts("#log tbody tr").isEmpty());
        browser.shown("#log-withdrawn").click();
        browser.await("both stay", () -> browser.count("#log tbody tr") == 2);
    }

    @Test
    void twoSuppliersAreComparedWithIntervals() {
        browser.open(service.address().resolve("compare.html?measure=fouling-rate&by=supplier"));
        browser.awaitText("#headline", "Quillmere is higher than Ostravik");
        assertThat(browser.text("#pairs tbody tr")).contains("they differ").contains("less than 0.1 %");
        assertThat(browser.text("#cohorts tbody tr")).contains("12 of 12").contains("K/MW");
        browser.shown("#sheet").click();
        browser.awaitText("#sheet", "Quillmere is higher than Ostravik");
        browser.await(
                "a checksum",
                () -> browser.text("#sheet section:last-child .sum").matches("[0-9a-f]{64}"));
    }

    @Test
    void aClockThatIsAheadAndLateSamplesAreSaid() {
        browser.open(service.address().resolve("data-quality.html"));
        browser.awaitText("#units tbody tr:nth-child(1)", "7.4 s ahead of ours");
        browser.awaitText("#units tbody tr:nth-child(2)", "812");
        assertThat(browser.count("#units tbody tr")).isEqualTo(2);
        browser.awaitText("#points tbody tr", "6 min");
        browser.shown("#all-units").click();
        browser.awaitText("#units tbody tr:nth-child(3)", "agrees with ours");
    }

    @Test
    void everythingAPageLoadsIsSmall() throws IOException {
        Path pages = Repository.root().resolve("api/src/main/resources/META-INF/resources");
        long compressed = 0;
        try (Stream<Path> files = Files.walk(pages)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                ByteArrayOutputStream bytes = new ByteArrayOutputStream();
                try (GZIPOutputStream gzip = new GZIPOutputStream(bytes)) {
                    gzip.write(Files.readAllBytes(file));
                }
                compressed += bytes.size();
            }
        }
        System.out.println("all pages, scripts and styles together: " + compressed / 1000 + " kB compressed");
        assertThat(compressed).isLessThan(300_000);
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
    void whatCannotBeJudgedIsNotShownAsGood() {
        browser.open(service.address().resolve("?q=W-07"));
        browser.awaitText("[data-unit=W-07] .word", "not judged now");
        browser.awaitText("[data-unit=W-07] .reason", "too low for UA");
        browser.awaitText("[data-unit=W-07] .c-function", "not observable");
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

    @Test
    void aLeakStandsOutInAFloodAndIsAcknowledgedWithoutAMouse() {
        browser.open(service.address().resolve("alarms.html"));
        browser.awaitText("#headline", "1 incident to acknowledge; first E-07: liquid in the drip tray");
        browser.awaitText("#flood", "Alarm flood since");
        assertThat(browser.texts(".incident h2")).hasSize(2).first().asString().startsWith("E-07");
        assertThat(browser.texts(".incident").get(1)).contains("Hall East", "9 units", "taken by Omar");

        browser.tabTo(".incident button.main");
        browser.type(Keys.ENTER);

        browser.awaitText("#headline", "none to acknowledge");
    }

    @Test
    void anAlarmSaysWhyWhatItLeadsToAndWhatToDoFirst() {
        browser.open(service.address().resolve("alarm.html?id=E-07/tray-wet"));
        browser.awaitText("#why", "Go to the unit now.");
        browser.awaitText("#why", "Coolant may reach electrical equipment.");
        browser.awaitText("#left", "left to respond");
        browser.awaitText("#plots", "kPa");
        browser.awaitText("#messages", "delivered");
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
