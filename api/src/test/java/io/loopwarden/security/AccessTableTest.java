package io.loopwarden.security;

import static org.assertj.core.api.Assertions.assertThat;

import io.quarkus.websockets.next.WebSocket;
import jakarta.ws.rs.Path;
import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** What the router knows and what the table says are the same. */
class AccessTableTest {

    private static final java.nio.file.Path PAGES = java.nio.file.Path.of("src/main/resources/META-INF/resources");
    /** Answered by Quarkus, not by a class of ours. */
    private static final Set<String> FRAMEWORK = Set.of("GET /api/v1/openapi");

    @Test
    void everyEndpointHasARowAndEveryRowAnEndpoint() throws Exception {
        Set<String> declared = new TreeSet<>(FRAMEWORK);
        for (Class<?> found : classesOfThisModule()) {
            if (found.isAnnotationPresent(WebSocket.class)) {
                declared.add("GET " + found.getAnnotation(WebSocket.class).path());
            }
            if (found.isAnnotationPresent(Path.class)) {
                for (Method method : found.getDeclaredMethods()) {
                    MatchedAccess.method(method)
                            .ifPresent(http -> declared.add(http + " " + MatchedAccess.template(found, method)));
                }
            }
        }
        Set<String> listed = AccessTable.ROWS.stream()
                .filter(row -> row.template().startsWith("/api/"))
                .map(row -> row.method() + " " + row.template())
                .collect(Collectors.toCollection(TreeSet::new));
        assertThat(listed).as("add or take away a row in AccessTable").isEqualTo(declared);
    }

    private static List<Class<?>> classesOfThisModule() throws Exception {
        java.nio.file.Path root = java.nio.file.Path.of(AccessTable.class
                .getProtectionDomain()
                .getCodeSource()
                .getLocation()
                .toURI());
        List<Class<?>> classes = new ArrayList<>();
        try (Stream<java.nio.file.Path> files = Files.walk(root.resolve("io/loopwarden"))) {
            for (java.nio.file.Path file :
                    files.filter(f -> f.toString().endsWith(".class")).toList()) {
                String name = root.relativize(file)
                        .toString()
                        .replaceAll("\\.class$", "")
                        .replace('/', '.');
                classes.add(Class.forName(name, false, AccessTable.class.getClassLoader()));
            }
        }
        assertThat(classes).hasSizeGreaterThan(50);
        return classes;
    }

    @Test
    void everyFileOfThePagesHasARow() throws IOException {
        try (Stream<java.nio.file.Path> files = Files.walk(PAGES)) {
            List<String> unlisted = files.filter(Files::isRegularFile)
                    .map(file -> "/" + PAGES.relativize(file))
                    .filter(address -> AccessTable.find("GET", address).isEmpty())
                    .toList();
            assertThat(unlisted).isEmpty();
        }
    }

    @Test
    void noRowIsThereTwice() {
        assertThat(AccessTable.ROWS.stream().map(row -> row.method() + " " + row.template()))
                .doesNotHaveDuplicates();
    }

    @Test
    void whatChangesSomethingIsNeverForAnyoneExceptSigningInAndOutAndTheLinkInAMessage() {
        assertThat(AccessTable.ROWS.stream()
                        .filter(row -> row.isChange() && row.least() == Role.ANYONE)
                        .map(Access::template))
                .containsExactlyInAnyOrder(
                        "/api/v1/sign-in",
                        "/api/v1/sign-in/token",
                        "/api/v1/sign-out",
                        "/api/v1/acknowledgement/view",
                        "/api/v1/acknowledgement");
    }

    @Test
    void theMoreExactTemplateIsMeant() {
        assertThat(AccessTable.find("GET", "/sign-in.html").orElseThrow().least())
                .isEqualTo(Role.ANYONE);
        assertThat(AccessTable.find("GET", "/unit.html").orElseThrow().least()).isEqualTo(Role.VIEWER);
        assertThat(AccessTable.find("GET", "/api/v1/units/a/b")).isEmpty();
        assertThat(AccessTable.find("GET", "/api/v1/audit/check/")).isEmpty();
        assertThat(AccessTable.find("HEAD", "/api/v1/fleet")).isPresent();
        assertThat(AccessTable.find("TRACE", "/api/v1/fleet")).isEmpty();
    }
}
