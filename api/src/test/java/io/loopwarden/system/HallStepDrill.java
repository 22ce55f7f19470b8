package io.loopwarden.system;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole service with 24 virtual units in one hall: the facility's water gets 6 K warmer, and in the middle of it one unit's drip tray
 * gets wet. Started by {@code deploy/drill hall}; takes some minutes.
 */
class HallStepDrill {

    private static final String LEAKING = "E-05";

    @TempDir
    Path folder;

    @Test
    void aStepOfTheFacilityIsOneIncidentAndALeakStandsOutInIt() throws Exception {
        Path scenario = oneHall(folder.resolve("scenario"));
        try (Broker broker = Broker.start(folder.resolve("broker"));
                VirtualFleet fleet = VirtualFleet.start(scenario, folder.resolve("fleet"), broker);
                Taker taker = new Taker()) {
            taker.putInto(fleet.fleetFolder());
            try (Service service = new Service(fleet.fleetFolder(), folder.resolve("service")).start()) {
                run(fleet, taker, service);
            }
        }
    }

    private static void run(VirtualFleet fleet, Taker taker, Service service) throws Exception {
        await("every unit reports").atMost(Duration.ofMinutes(3)).until(() -> reporting(service) == 24);
        List<String> units = new ArrayList<>();
        service.get("/api/v1/fleet")
                .get("units")
                .forEach(unit -> units.add(unit.get("id").asText()));

        Instant step = Instant.now();
        for (String unit : units) {
            fleet.control("/units/" + unit + "/facility", "{\"warmerK\": 6}");
        }
        await("the hall's incident names every unit")
                .atMost(Duration.ofMinutes(3))
                .pollInterval(Duration.ofMillis(200))
                .until(() -> facility(service).stream()
                        .anyMatch(each -> each.get("place").asText().equals("hall:East")
                                && each.get("sources").size() == 24));
        assertThat(service.get("/api/v1/alarms").has("floodSince"))
                .as("it is a flood")
                .isTrue();

        Instant wet = Instant.now();
        fleet.control("/units/" + LEAKING + "/points/tray.wet", "{\"value\": 1}");
        await("the leak's message")
                .atMost(Duration.ofSeconds(60))
                .pollInterval(Duration.ofMillis(20))
                .until(() -> taker.taken.stream()
                        .anyMatch(each ->
                                each.place().equals(LEAKING) && each.group().equals("Liquid in the drip tray")));
        Taker.Taken leak = taker.taken.stream()
                .filter(each -> each.group().equals("Liquid in the drip tray"))
                .findFirst()
                .orElseThrow();
        JsonNode first = service.get("/api/v1/alarms").get("alarms").get(0);

        await("the hall's message").atMost(Duration.ofSeconds(60)).until(() -> facilityMessages(taker, step) > 0);
        List<JsonNode> incidents = facility(service);
        double leakSeconds = Duration.between(wet, leak.at()).toMillis() / 1e3;
        long alarms = incidents.get(0).get("alarms").size();
        System.out.printf(
                "facility step of 6 K on 24 units: %d incident(s) of the facility with %d alarms, %d message(s);"
                        + " the leak's message came after %.1f s and leads the list: %s%n",
                incidents.size(),
                alarms,
                facilityMessages(taker, step),
                leakSeconds,
                first.get("id").asText());
        assertThat(incidents).hasSize(1);
        assertThat(facilityMessages(taker, step)).isEqualTo(1);
        assertThat(leakSeconds).isLessThan(10);
        assertThat(first.get("definition").asText()).isEqualTo("tray-wet");
        assertThat(leak.event().at("/data/sources")).hasSize(1);
    }

    private static long reporting(Service service) {
        long reporting = 0;
        for (JsonNode unit : service.get("/api/v1/fleet").get("units")) {
            reporting += unit.at("/figures/approach/value").isNumber() ? 1 : 0;
        }
        return reporting;
    }

    private static List<JsonNode> facility(Service service) {
        List<JsonNode> found = new ArrayList<>();
        service.get("/api/v1/alarms").get("incidents").forEach(each -> {
            if (each.get("group").asText().equals("facility")) {
                found.add(each);
            }
        });
        return found;
    }

    private static long facilityMessages(Taker taker, Instant step) {
        return taker.taken.stream()
                .filter(each -> each.at().isAfter(step) && each.group().startsWith("Facility water is warmer"))
                .count();
    }

    /** The demo's scenario with every unit in the East hall. */
    private static Path oneHall(Path target) throws Exception {
        Path scenario = Repository.root().resolve("sample-streams/scenario");
        try (Stream<Path> files = Files.walk(scenario)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                Path copy = target.resolve(scenario.relativize(file).toString());
                Files.createDirectories(copy.getParent());
                Files.writeString(copy, Files.readString(file).replace("hall: West", "hall: East"));
            }
        }
        return target;
    }
}
