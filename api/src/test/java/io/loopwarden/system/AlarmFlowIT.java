package io.loopwarden.system;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** From a lost connection to the person who is called, the link in the message, and what an operator does afterwards. */
class AlarmFlowIT {

    private static final String ALARM = "/api/v1/alarms/connection:bench/connection-lost";

    @TempDir
    Path folder;

    @Test
    void somebodyIsCalledAcknowledgesByTheLinkAndShelvesWithAReason() throws Exception {
        try (Taker taker = new Taker();
                Service service = new Service(fleet(taker), folder.resolve("service")).start()) {
            await("the message").atMost(Duration.ofSeconds(30)).until(() -> taker.taken.size() == 1);
            JsonNode message = taker.taken.get(0).event().get("data");
            assertThat(message.get("consequence").asText()).isNotBlank();
            assertThat(message.get("firstAction").asText()).isNotBlank();
            String link = message.get("acknowledgeLink").asText();
            String key = link.substring(link.indexOf('#') + 1);

            assertThat(byLink(service, key + "x").statusCode()).isEqualTo(403);
            assertThat(state(service)).isEqualTo("unacknowledged");
            assertThat(byLink(service, key).statusCode()).isEqualTo(200);
            assertThat(state(service)).isEqualTo("acknowledged");
            assertThat(service.get("/api/v1/alarms").at("/incidents/0/takenBy").asText())
                    .isEqualTo("Ines Test");

            assertThat(Account.nobody(service)
                            .send("POST", ALARM + "/shelve", "{\"why\":\"x\",\"minutes\":30}")
                            .statusCode())
                    .isEqualTo(401);
            Account operator = service.administrator().add("operator");
            assertThat(operator.send("POST", ALARM + "/shelve", "{\"minutes\":30}")
                            .body())
                    .contains("needs a reason");
            assertThat(operator.send("POST", ALARM + "/shelve", "{\"why\":\"broker is changed\"}")
                            .body())
                    .contains("for a time, never for good");
            assertThat(operator.send("POST", ALARM + "/shelve", "{\"why\":\"broker is changed\",\"minutes\":30}")
                            .statusCode())
                    .isEqualTo(200);
            assertThat(state(service)).isEqualTo("shelved");
            JsonNode newest = service.get(ALARM).at("/history/0");
            assertThat(newest.get("who").asText()).isEqualTo("operator");
            assertThat(newest.get("why").asText()).isEqualTo("broker is changed");
            assertThat(newest.has("until")).isTrue();
            assertThat(operator.send("PUT", "/api/v1/on-call/plan", "{\"basedOn\":0,\"plan\":{}}")
                            .statusCode())
                    .as("only an administrator changes who is called")
                    .isEqualTo(403);
            assertThat(taker.taken).as("nobody was called again").hasSize(1);
        }
    }

    private static String state(Service service) {
        return service.get(ALARM).at("/alarm/state").asText();
    }

    private static HttpResponse<String> byLink(Service service, String key) throws Exception {
        return Service.send(HttpRequest.newBuilder(service.address("/api/v1/acknowledgement"))
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString("{\"key\":\"" + key + "\"}"))
                .build());
    }

    /** The bench's fleet, whose broker is not there, with a definition that calls at once. */
    private Path fleet(Taker taker) throws Exception {
        Path example = Repository.root().resolve("api/src/test/resources/system/fleet");
        Path target = folder.resolve("fleet");
        try (Stream<Path> files = Files.walk(example)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                Path copy = target.resolve(example.relativize(file).toString());
                Files.createDirectories(copy.getParent());
                Files.copy(file, copy);
            }
        }
        Files.writeString(target.resolve("alarms.yaml"), """
                alarms:
                  - alarm: connection-lost
                    title: A controller does not answer
                    function: data
                    when: {connection: lost}
                    cause: Network or controller.
                    consequence: Nothing is known of the units behind it.
                    severity: severe
                    first-action: Look at it.
                    respond-within: PT10M
                    who: cooling
                """);
        taker.putInto(target);
        return target;
    }
}
