package io.loopwarden.pages;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import org.openqa.selenium.By;
import org.openqa.selenium.Cookie;
import org.openqa.selenium.JavascriptExecutor;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.support.ui.WebDriverWait;

/** The system's chromium without a screen, with a profile of its own. */
final class Browser implements AutoCloseable {

    private static final Duration PATIENCE = Duration.ofSeconds(20);
    private static final List<Path> BROWSERS = List.of(Path.of("/usr/bin/chromium"), Path.of("/usr/bin/google-chrome"));
    private static final Path DRIVER = Path.of("/usr/bin/chromedriver");

    private final ChromeDriver driver;

    Browser() {
        ChromeOptions options = new ChromeOptions();
        options.setBinary(BROWSERS.stream()
                .filter(Files::isExecutable)
                .findFirst()
                .orElseThrow(() -> new IllegalStateException(
                        "no browser at " + BROWSERS + ": install the packages chromium and chromium-driver"))
                .toString());
        options.addArguments(
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--disable-dev-shm-usage");
        driver = new ChromeDriver(
                new ChromeDriverService.Builder()
                        .usingDriverExecutable(DRIVER.toFile())
                        .usingAnyFreePort()
                        .build(),
                options);
        size(1440, 900);
    }

    void size(int width, int height) {
        driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", false));
    }

    void colours(String scheme) {
        driver.executeCdpCommand(
                "Emulation.setEmulatedMedia",
                Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", scheme))));
    }

    void open(Object address) {
        driver.get(address.toString());
    }

    /** Is somebody from now on: the cookie is {@code name=value}, of the open page's address. */
    void signIn(String cookie) {
        if (!cookie.isEmpty()) {
            int at = cookie.indexOf('=');
            driver.manage().addCookie(new Cookie(cookie.substring(0, at), cookie.substring(at + 1)));
        }
    }

    void signOut() {
        driver.manage().deleteAllCookies();
    }

    String address() {
        return driver.getCurrentUrl();
    }

    String title() {
        return driver.getTitle();
    }

    /** Waits until something is there and answers it; a node that is replaced meanwhile is looked for again. */
    <T> T await(String what, Supplier<T> found) {
        return new WebDriverWait(driver, PATIENCE, Duration.ofMillis(50))
                .withMessage(what)
                .ignoring(StaleElementReferenceException.class)
                .until(any -> {
                    T value = found.get();
                    return value == null || Boolean.FALSE.equals(value) ? null : value;
                });
    }

    WebElement shown(String css) {
        return await(
                css,
                () -> driver.findElements(By.cssSelector(css)).stream()
                        .filter(WebElement::isDisplayed)
                        .findFirst()
                        .orElse(null));
    }

    String text(String css) {
        return await(css, () -> {
            String text = shown(css).getText().strip();
            return text.isEmpty() ? null : text;
        });
    }

    void awaitText(String css, String part) {
        await(css + " says " + part, () -> shown(css).getText().contains(part));
    }

    void awaitGone(String css) {
        await(
                css + " is gone",
                () -> driver.findElements(By.cssSelector(css)).stream().noneMatch(WebElement::isDisplayed));
    }

    List<String> texts(String css) {
        return await(
                css,
                () -> driver.findElements(By.cssSelector(css)).stream()
                        .map(WebElement::getText)
                        .toList());
    }

    int count(String css) {
        return driver.findElements(By.cssSelector(css)).size();
    }

    /** Types to whatever has the focus, as a person without a mouse does. */
    void type(CharSequence... keys) {
        driver.switchTo().activeElement().sendKeys(keys);
    }

    /** Tabs on until the focus is where the selector says; fails when it never gets there. */
    void tabTo(String css) {
        for (int n = 0; n < 60; n++) {
            if (Boolean.TRUE.equals(run("return document.activeElement.matches(arguments[0])", css))) {
                return;
            }
            type(Keys.TAB);
        }
        throw new AssertionError("the keyboard does not reach " + css);
    }

    Object run(String script, Object... arguments) {
        return ((JavascriptExecutor) driver).executeScript(script, arguments);
    }

    /** Runs a script that calls its last argument when it is done. */
    Object runAsync(String script) {
        return ((JavascriptExecutor) driver).executeAsyncScript(script);
    }

    /** The browser's own counters of the open page: ScriptDuration, Timestamp and others, in seconds. */
    @SuppressWarnings("unchecked")
    Map<String, Double> counters() {
        driver.executeCdpCommand("Performance.enable", Map.of());
        Map<String, Double> counters = new HashMap<>();
        for (Object metric : (List<Object>)
                driver.executeCdpCommand("Performance.getMetrics", Map.of()).get("metrics")) {
            Map<String, Object> one = (Map<String, Object>) metric;
            counters.put((String) one.get("name"), ((Number) one.get("value")).doubleValue());
        }
        return counters;
    }

    /** The open page as a picture, as high as it is. */
    byte[] picture(int width, int least) {
        long height = Math.max(least, ((Number) run("return document.documentElement.scrollHeight")).longValue());
        size(width, (int) Math.min(6000, height));
        byte[] picture = driver.getScreenshotAs(OutputType.BYTES);
        size(width, least);
        return picture;
    }

    /** Serious and critical findings of axe-core on the open page, one line each. */
    @SuppressWarnings("unchecked")
    List<String> seriousAccessibilityFindings() {
        run(axe());
        Object result = ((JavascriptExecutor) driver).executeAsyncScript("""
                const done = arguments[arguments.length - 1];
                axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
                    .then(found => done(found.violations
                        .filter(each => each.impact === 'serious' || each.impact === 'critical')
                        .map(each => each.id + ': ' + each.help + ': ' + each.nodes.map(node => node.html).slice(0, 5).join(' | '))));
                """);
        return (List<String>) result;
    }

    private static String axe() {
        try (InputStream script = Browser.class.getResourceAsStream("/axe.min.js")) {
            assertThat(script).as("axe-core on the class path").isNotNull();
            return new String(script.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** What the page complained about, without the broken connections of a service that is away on purpose. */
    List<String> complaints() {
        return driver.manage().logs().get("browser").getAll().stream()
                .map(entry -> entry.getMessage())
                .filter(message -> !message.contains("ERR_CONNECTION_REFUSED"))
                .filter(message -> !message.contains("ERR_CONNECTION_RESET"))
                .toList();
    }

    @Override
    public void close() {
        driver.quit();
    }
}
