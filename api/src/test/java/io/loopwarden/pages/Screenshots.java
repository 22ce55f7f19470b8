package io.loopwarden.pages;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.openqa.selenium.Keys;

/** Pictures of every page of a running service, light, dark and on a phone, for people to look at. */
final class Screenshots {

    private record Look(String name, int width, int height, String colours) {}

    private static final List<Look> LOOKS = List.of(
            new Look("light", 1440, 900, "light"),
            new Look("dark", 1440, 900, "dark"),
            new Look("phone", 390, 844, "light"),
            new Look("phone-dark", 390, 844, "dark"));

    /** Live figures and small trends need a moment. */
    private static final long SETTLE_MS = 2500;

    private Screenshots() {}

    /** Arguments: address of the service, folder for the pictures, and the token of a first sign-in, or nothing. */
    public static void main(String[] arguments) throws IOException {
        URI service = URI.create(arguments[0]);
        Path folder = Files.createDirectories(Path.of(arguments[1]));
        try (Browser browser = new Browser()) {
            if (arguments.length > 2) {
                signIn(browser, service, arguments[2]);
            }
            browser.open(service);
            String worst = browser.text("#rows [role=row] a");
            for (Map.Entry<String, String> page : pages(worst).entrySet()) {
                for (Look look : LOOKS) {
                    browser.size(look.width(), look.height());
                    browser.colours(look.colours());
                    browser.open(service.resolve(page.getValue()));
                    LockSupport.parkNanos(TimeUnit.MILLISECONDS.toNanos(SETTLE_MS));
                    Path file = folder.resolve(page.getKey() + "-" + look.name() + ".png");
                    Files.write(file, browser.picture(look.width(), look.height()));
                    System.out.println(file);
                }
            }
        }
    }

    private static void signIn(Browser browser, URI service, String token) {
        browser.open(service.resolve("sign-in.html#token=" + token));
        browser.shown("#name").sendKeys("pictures");
        browser.shown("#password").sendKeys("a password for pictures", Keys.ENTER);
        browser.await("signed in", () -> !browser.address().contains("sign-in"));
    }

    private static Map<String, String> pages(String unit) {
        Map<String, String> pages = new LinkedHashMap<>();
        pages.put("fleet", "/");
        pages.put("unit", "unit.html?id=" + unit);
        pages.put("alarms", "alarms.html");
        pages.put(
                "trends",
                "trends.html?units=" + unit + "&show=heat-transfer-reserve,fws.valve.position,tcs.flow&span=24h");
        pages.put("maintenance", "maintenance.html?unit=" + unit);
        pages.put("compare", "compare.html");
        pages.put("evidence", "evidence.html?unit=" + unit);
        pages.put("data-quality", "data-quality.html?unit=" + unit);
        pages.put("units", "units.html");
        pages.put("people", "people.html");
        pages.put("help", "help.html");
        return pages;
    }
}
