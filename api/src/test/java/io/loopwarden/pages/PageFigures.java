package io.loopwarden.pages;

import java.net.URI;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

/**
 * How heavy the pages are in a real headless browser: scripting with 1,000 units that change each second, first useful paint, a trend of a
 * year. Prints a table; limits are those the pages promise.
 */
final class PageFigures {

    static final double MOST_SCRIPTING = 0.25;
    static final double MOST_PAINT_MS = 1500;
    static final double MOST_TREND_MS = 150;

    private static final int UNITS = 1000;

    private PageFigures() {}

    /** Argument: how many seconds to look at the fleet page, 20 if absent. */
    public static void main(String[] arguments) {
        int seconds = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 20;
        boolean held;
        try (ServiceUnderTest service = new PretendService(UNITS, 0);
                Browser browser = new Browser()) {
            double paintMs = paintMs(browser, service.address());
            double scripting = scripting(browser, seconds);
            double trendMs = trendMs(browser, service.address());
            System.out.printf(
                    Locale.ROOT,
                    "%-62s %8s %8s%n" + "%-62s %7.1f%% %7.0f%%%n%-62s %5.0f ms %5.0f ms%n%-62s %5.0f ms %5.0f ms%n",
                    "in headless Chromium",
                    "is",
                    "at most",
                    "scripting of a core, 1,000 units each second, " + seconds + " s",
                    100 * scripting,
                    100 * MOST_SCRIPTING,
                    "first rows of 1,000 units painted, from the navigation on, median",
                    paintMs,
                    MOST_PAINT_MS,
                    "trend of one point over a year, from click to drawn, median",
                    trendMs,
                    MOST_TREND_MS);
            held = scripting <= MOST_SCRIPTING && paintMs <= MOST_PAINT_MS && trendMs <= MOST_TREND_MS;
        }
        System.exit(held ? 0 : 1);
    }

    /** From the start of the navigation until rows are in the document and a frame was painted after; the median of five. */
    static double paintMs(Browser browser, URI fleet) {
        List<Double> each = new ArrayList<>();
        for (int n = 0; n < 5; n++) {
            browser.open("about:blank");
            browser.open(fleet);
            Number at = browser.await("rows", () ->
                    (Number) browser.run("return performance.getEntriesByName('useful')[0]?.startTime ?? null"));
            each.add(at.doubleValue());
        }
        each.sort(null);
        return each.get(each.size() / 2);
    }

    /** Time in scripts over time passed, by the browser's own counters. */
    static double scripting(Browser browser, int seconds) {
        Map<String, Double> before = browser.counters();
        LockSupport.parkNanos(TimeUnit.SECONDS.toNanos(seconds));
        Map<String, Double> after = browser.counters();
        return (after.get("ScriptDuration") - before.get("ScriptDuration"))
                / (after.get("Timestamp") - before.get("Timestamp"));
    }

    /** The median of seven clicks on "1 year", each after another span. */
    static double trendMs(Browser browser, URI service) {
        browser.open(service.resolve("trends.html?units=E-007&show=tcs.flow&span=24h"));
        List<Double> each = new ArrayList<>();
        for (int n = 0; n < 7; n++) {
            browser.shown("[data-span='7d'][aria-pressed=false], [data-span='30d'][aria-pressed=false]")
                    .click();
            browser.await("drawn", () -> browser.run("return performance.getEntriesByName('drawn').length > 0"));
            browser.run("performance.clearMarks('drawn')");
            Number took = (Number) browser.runAsync("""
                    const done = arguments[arguments.length - 1];
                    const begun = performance.now();
                    document.querySelector("[data-span='1y']").click();
                    const look = () => (performance.getEntriesByName('drawn').length
                        ? done(performance.getEntriesByName('drawn')[0].startTime - begun) : setTimeout(look, 2));
                    look();""");
            each.add(took.doubleValue());
        }
        each.sort(null);
        return each.get(each.size() / 2);
    }
}
