package io.loopwarden.security;

import static io.loopwarden.security.Access.delete;
import static io.loopwarden.security.Access.get;
import static io.loopwarden.security.Access.post;
import static io.loopwarden.security.Access.put;
import static io.loopwarden.security.Role.ADMINISTRATOR;
import static io.loopwarden.security.Role.ANYONE;
import static io.loopwarden.security.Role.ENGINEER;
import static io.loopwarden.security.Role.OPERATOR;
import static io.loopwarden.security.Role.VIEWER;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** Every address of the service and the least role for it. What is not here is refused, and fails the build. */
public final class AccessTable {

    public static final List<Access> ROWS = List.of(
            // Pages hold no data; what they show they ask for.
            get("/", VIEWER),
            get("/{page}.html", VIEWER),
            get("/help.html", ANYONE),
            get("/sign-in.html", ANYONE),
            get("/favicon.svg", ANYONE),
            get("/js/{file}", ANYONE),
            get("/js/{folder}/{file}", ANYONE),
            get("/style/{file}", ANYONE),
            // The fleet
            get("/api/v1/fleet", VIEWER),
            get("/api/v1/units/{unit}", VIEWER),
            get("/api/v1/units/{unit}/points/{point}/series", VIEWER),
            get("/api/v1/units/{unit}/points/{point}/samples", VIEWER),
            get("/api/v1/units/{unit}/figures/{key}/series", VIEWER),
            get("/api/v1/units/{unit}/forecasts", VIEWER),
            get("/api/v1/units/{unit}/parts", VIEWER),
            get("/api/v1/units/{unit}/availability", VIEWER),
            get("/api/v1/availability", VIEWER),
            get("/api/v1/units/{unit}/events", VIEWER),
            get("/api/v1/data-quality", VIEWER),
            get("/api/v1/data-quality/units", VIEWER),
            get("/api/v1/data-quality/units/{unit}/points", VIEWER),
            get("/api/v1/live", VIEWER),
            get("/api/v1/openapi", VIEWER),
            // Maintenance
            get("/api/v1/maintenance", VIEWER),
            get("/api/v1/units/{unit}/maintenance", VIEWER),
            get("/api/v1/units/{unit}/maintenance/{id}/result", VIEWER),
            get("/api/v1/plan", VIEWER),
            get("/api/v1/plan.ics", VIEWER),
            get("/api/v1/plan.csv", VIEWER),
            post("/api/v1/units/{unit}/maintenance", OPERATOR),
            post("/api/v1/units/{unit}/maintenance/{id}/withdrawal", OPERATOR),
            // Comparing
            get("/api/v1/compare", VIEWER),
            get("/api/v1/units/{unit}/evidence", VIEWER),
            // Setting up a unit
            get("/api/v1/setup", ENGINEER),
            post("/api/v1/setup/look", ENGINEER),
            post("/api/v1/setup/proposal", ENGINEER),
            post("/api/v1/setup/check", ENGINEER),
            post("/api/v1/setup/units", ENGINEER),
            // Alarms and on-call
            get("/acknowledge.html", ANYONE),
            get("/api/v1/alarms", VIEWER),
            get("/api/v1/alarms/{source}/{definition}", VIEWER),
            post("/api/v1/alarms/{source}/{definition}/{action}", OPERATOR),
            get("/api/v1/incidents", VIEWER),
            get("/api/v1/incidents/{id}", VIEWER),
            post("/api/v1/incidents/{id}/acknowledge", OPERATOR),
            get("/api/v1/alarm-history", VIEWER),
            get("/api/v1/alarm-performance", VIEWER),
            get("/api/v1/alarm-definitions", VIEWER),
            post("/api/v1/alarm-definitions/trial", ENGINEER),
            get("/api/v1/shift-log", VIEWER),
            post("/api/v1/shift-log", OPERATOR),
            get("/api/v1/on-call", VIEWER),
            put("/api/v1/on-call/plan", ADMINISTRATOR),
            post("/api/v1/on-call/covers", OPERATOR),
            post("/api/v1/on-call/trial/{person}", OPERATOR),
            post("/api/v1/on-call/messages/{id}/retry", OPERATOR),
            // The link in a message is its own proof.
            post("/api/v1/acknowledgement/view", ANYONE).auditingItself(),
            post("/api/v1/acknowledgement", ANYONE).auditingItself(),
            // Signing in
            get("/api/v1/me", ANYONE),
            post("/api/v1/sign-in", ANYONE).auditingItself(),
            post("/api/v1/sign-in/token", ANYONE).auditingItself(),
            post("/api/v1/sign-out", ANYONE),
            put("/api/v1/me/password", VIEWER).auditingItself(),
            // People, keys, audit trail
            get("/api/v1/people", ADMINISTRATOR),
            post("/api/v1/people", ADMINISTRATOR),
            put("/api/v1/people/{name}", ADMINISTRATOR),
            post("/api/v1/people/{name}/token", ADMINISTRATOR),
            get("/api/v1/keys", ADMINISTRATOR),
            post("/api/v1/keys", ADMINISTRATOR),
            delete("/api/v1/keys/{id}", ADMINISTRATOR),
            get("/api/v1/audit", ADMINISTRATOR),
            get("/api/v1/audit/check", ADMINISTRATOR),
            // For those who watch the service
            get("/q/health", ANYONE),
            get("/q/health/live", ANYONE),
            get("/q/health/ready", ANYONE),
            get("/q/health/started", ANYONE),
            get("/q/metrics", VIEWER));

    private AccessTable() {}

    static Optional<Access> find(String method, String path) {
        String asked = method.equals("HEAD") ? "GET" : method;
        return ROWS.stream()
                .filter(row -> row.method().equals(asked) && row.path().matches(path))
                .max(Comparator.comparingInt(row -> row.path().fixedLength()));
    }

    static List<String> areas() {
        return ROWS.stream()
                .map(row -> area(row.template()))
                .distinct()
                .sorted()
                .toList();
    }

    /** The part of the service an address belongs to, by which API keys are limited: {@code units}, {@code metrics}. */
    static String area(String template) {
        String[] parts = template.split("/");
        int at = template.startsWith("/api/v1/") ? 3 : template.startsWith("/q/") ? 2 : 1;
        return parts.length > at ? parts[at] : "pages";
    }
}
