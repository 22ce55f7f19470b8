package io.loopwarden.system;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import io.loopwarden.security.Access;
import io.loopwarden.security.AccessTable;
import io.loopwarden.security.Role;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/** The packaged service: each role at each endpoint, and what keeps others out. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class AccessIT {

    private final Map<Role, Account> accounts = new EnumMap<>(Role.class);
    private Service service;

    @BeforeAll
    void start(@TempDir Path folder) {
        service = new Service(
                        Repository.root().resolve("api/src/test/resources/system/fleet"),
                        folder.resolve("service"),
                        List.of())
                .start();
        Account administrator = service.administrator();
        accounts.put(Role.ANYONE, Account.nobody(service));
        accounts.put(Role.ADMINISTRATOR, administrator);
        for (Role role : List.of(Role.VIEWER, Role.OPERATOR, Role.ENGINEER)) {
            accounts.put(role, administrator.add(role.word()));
        }
    }

    @AfterAll
    void stop() {
        service.close();
    }

    @TestFactory
    Stream<DynamicTest> everyRoleAtEveryEndpoint() {
        return AccessTable.ROWS.stream()
                .flatMap(row -> Stream.of(Role.values())
                        .map(role -> DynamicTest.dynamicTest(
                                role.word() + " " + row.method() + " " + row.template(), () -> check(role, row))));
    }

    private void check(Role role, Access row) {
        String path = row.template().replaceAll("\\{[A-Za-z]+}", "nothing");
        boolean endsTheSignIn = path.equals("/api/v1/sign-out");
        Account who = endsTheSignIn && role != Role.ANYONE
                ? Account.signIn(service, role == Role.ADMINISTRATOR ? "admin" : role.word())
                : accounts.get(role);
        int status = who.send(row.method(), path, row.isChange() ? "{}" : "").statusCode();
        if (role.includes(row.least())) {
            assertThat(status).isNotIn(302, 401, 403, 405, 500);
        } else if (role == Role.ANYONE) {
            assertThat(status).isIn(302, 401);
        } else {
            assertThat(status).isEqualTo(403);
        }
    }

    @Test
    void whatIsNotInTheTableIsRefusedEvenToAnAdministrator() {
        Account administrator = accounts.get(Role.ADMINISTRATOR);
        for (String path : List.of(
                "/q/openapi", "/q/dev", "/api/v1//people", "/api/v1/people/", "/api/v1/people;a=b", "/API/v1/people")) {
            assertThat(administrator.send("GET", path, "").statusCode())
                    .as(path)
                    .isEqualTo(404);
        }
        assertThat(administrator.send("DELETE", "/api/v1/fleet", "").statusCode())
                .isEqualTo(404);
    }

    @Test
    void anOddSpellingDoesNotGetPastARole() {
        Account viewer = accounts.get(Role.VIEWER);
        for (String path : List.of(
                "/api/v1/units/..%2Fpeople",
                "/api/v1/units/%2e%2e/people",
                "/api/v1/units/x/../../people",
                "/api/v1/fleet/../people",
                "/api/v1/%70eople")) {
            HttpResponse<String> answer = viewer.send("GET", path, "");
            assertThat(answer.statusCode()).as(path).isIn(400, 403, 404);
        }
    }

    @Test
    void aChangeWithoutTheCsrfTokenIsRefused() {
        Account administrator = accounts.get(Role.ADMINISTRATOR);
        String body = "{\"name\":\"stranger\",\"role\":\"administrator\"}";
        assertThat(administrator.raw("POST", "/api/v1/people", body, "").statusCode())
                .isEqualTo(403);
        assertThat(administrator
                        .raw("POST", "/api/v1/people", body, "0".repeat(64))
                        .statusCode())
                .isEqualTo(403);
        assertThat(administrator.send("GET", "/api/v1/people", "").body()).doesNotContain("stranger");
    }

    @Test
    void aPageOfAnotherSiteCannotSignInOrListen() throws Exception {
        HttpRequest post = HttpRequest.newBuilder(service.address("/api/v1/sign-in"))
                .header("Origin", "http://elsewhere.example")
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString("{\"name\":\"admin\",\"password\":\"x\"}"))
                .build();
        assertThat(Service.send(post).statusCode()).isEqualTo(403);
    }

    @Test
    void guessingIsSlowedDownAndSaysNothingAboutNames() {
        Account nobody = accounts.get(Role.ANYONE);
        String unknown = "{\"name\":\"no-such-person\",\"password\":\"guess number one\"}";
        HttpResponse<String> first = nobody.send("POST", "/api/v1/sign-in", unknown);
        assertThat(first.statusCode()).isEqualTo(401);
        HttpResponse<String> last = first;
        for (int n = 0; n < 8 && last.statusCode() == 401; n++) {
            assertThat(last.body()).isEqualTo(first.body());
            last = nobody.send("POST", "/api/v1/sign-in", unknown);
        }
        assertThat(last.statusCode()).isEqualTo(429);
        assertThat(last.headers().firstValue("Retry-After")).isPresent();
    }

    @Test
    void aKeyIsGoodForItsAreasOnlyUntilItIsTakenBack() throws Exception {
        Account administrator = accounts.get(Role.ADMINISTRATOR);
        JsonNode made = Account.json(administrator.send(
                "POST", "/api/v1/keys", "{\"label\":\"scraper\",\"role\":\"viewer\",\"areas\":[\"metrics\"]}"));
        String key = made.get("key").asText();
        assertThat(withKey(key, "/q/metrics")).isEqualTo(200);
        assertThat(withKey(key, "/api/v1/fleet")).isEqualTo(403);
        assertThat(withKey(key + "x", "/q/metrics")).isEqualTo(401);

        administrator.send("DELETE", "/api/v1/keys/" + made.get("id").asText(), "");

        assertThat(withKey(key, "/q/metrics")).isEqualTo(401);
    }

    private int withKey(String key, String path) throws Exception {
        return Service.send(HttpRequest.newBuilder(service.address(path))
                        .header("Authorization", "Bearer " + key)
                        .build())
                .statusCode();
    }

    @Test
    void everyChangeIsInTheTrailWithItsAuthorAndNoSecretIs() {
        Account administrator = accounts.get(Role.ADMINISTRATOR);
        JsonNode added =
                Account.json(administrator.send("POST", "/api/v1/people", "{\"name\":\"ivo\",\"role\":\"operator\"}"));
        administrator.send("PUT", "/api/v1/people/ivo", "{\"role\":\"engineer\",\"active\":false}");
        administrator.send("PUT", "/api/v1/people/nobody", "{\"role\":\"engineer\",\"active\":false}");

        String trail = administrator.send("GET", "/api/v1/audit?most=1000", "").body();
        assertThat(trail)
                .contains("\"who\":\"admin\",\"action\":\"POST /api/v1/people\"")
                .contains("\"subject\":\"/api/v1/people/ivo\"")
                .contains("not done: answered 404")
                .doesNotContain(Account.PASSWORD)
                .doesNotContain(added.get("token").asText());
        JsonNode check = Account.json(administrator.send("GET", "/api/v1/audit/check", ""));
        assertThat(check.get("fault").isNull()).as(check.toString()).isTrue();
        assertThat(service.log()).doesNotContain(Account.PASSWORD);
    }

    @Test
    void theOnlyAdministratorCannotLockThemselvesOut() {
        HttpResponse<String> answer = accounts.get(Role.ADMINISTRATOR)
                .send("PUT", "/api/v1/people/admin", "{\"role\":\"viewer\",\"active\":true}");
        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(answer.body()).contains("only administrator");
    }
}
