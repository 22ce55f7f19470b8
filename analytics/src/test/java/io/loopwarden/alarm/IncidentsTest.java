package io.loopwarden.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.junit.jupiter.api.Test;

class IncidentsTest {

    private static final Instant NOON = Alarms.NOON;
    private static final Condition ANY = new PartCondition("any");
    private static final Function<AlarmId, Optional<Alarm>> ALL_STAND = id -> Optional.of(stand(id));
    private static final Function<AlarmId, Optional<Alarm>> NONE_STANDS = id -> Optional.empty();

    private final Map<String, Definition> definitions = new HashMap<>();
    private final Map<String, String> halls = new HashMap<>();

    IncidentsTest() {
        add(Alarms.definition("warm", ANY).group("facility").hallWide());
        add(Alarms.definition("saturated", ANY).group("control").follows("facility"));
        add(Alarms.definition("wet", ANY).group("leak").severe(Duration.ofMinutes(5)));
        for (int n = 1; n <= 24; n++) {
            halls.put("E-" + n, "East");
        }
        halls.put("W-1", "West");
    }

    private void add(Alarms.Builder builder) {
        Definition definition = builder.build();
        definitions.put(definition.key(), definition);
    }

    private Incidents incidents() {
        return new Incidents(GroupingSettings.DEFAULT, key -> Optional.ofNullable(definitions.get(key)), halls);
    }

    private static Alarm stand(AlarmId id) {
        return new Alarm(
                id,
                AlarmState.UNACKNOWLEDGED,
                true,
                NOON,
                Optional.of(NOON),
                Optional.empty(),
                Optional.empty(),
                false,
                "");
    }

    @Test
    void aStepOfTheFacilityInAHallIsOneIncidentAndALeakStandsAlone() {
        Incidents incidents = incidents();
        List<Transition> flood = new ArrayList<>();
        for (int n = 1; n <= 24; n++) {
            flood.add(Alarms.raised("E-" + n, "saturated", NOON.plusMillis(200L * n)));
            flood.add(Alarms.raised("E-" + n, "warm", NOON.plusMillis(200L * n + 100)));
        }
        flood.add(30, Alarms.raised("E-7", "wet", NOON.plusMillis(1500)));
        incidents.follow(flood, ALL_STAND, NOON.plusSeconds(6));
        assertThat(incidents.open()).hasSize(2);
        Incident hall =
                incidents.open().stream().filter(Incident::isOfHall).findFirst().orElseThrow();
        assertThat(hall.group()).isEqualTo("facility");
        assertThat(hall.sources()).hasSize(24);
        assertThat(hall.alarms()).hasSize(48);
        Incident leak = incidents.ofAlarm(new AlarmId("E-7", "wet")).orElseThrow();
        assertThat(leak.alarms()).hasSize(1);
        assertThat(leak.priority()).isEqualTo(Priority.HIGH);
    }

    @Test
    void aFewUnitsAreNoHall() {
        Incidents incidents = incidents();
        for (int n = 1; n <= 11; n++) {
            incidents.follow(List.of(Alarms.raised("E-" + n, "warm", NOON)), ALL_STAND, NOON);
        }
        assertThat(incidents.open()).hasSize(11).noneMatch(Incident::isOfHall);
        incidents.follow(List.of(Alarms.raised("E-12", "warm", NOON)), ALL_STAND, NOON);
        assertThat(incidents.open()).singleElement().matches(Incident::isOfHall);
        incidents.follow(List.of(Alarms.raised("W-1", "warm", NOON)), ALL_STAND, NOON);
        assertThat(incidents.open()).as("another hall").hasSize(2);
    }

    @Test
    void whatComesBackSoonBelongsToTheSameIncident() {
        Incidents incidents = incidents();
        String first = follow(incidents, NOON, "wet", NONE_STANDS).id();
        assertThat(follow(incidents, NOON.plus(Duration.ofMinutes(9)), "wet", NONE_STANDS)
                        .id())
                .isEqualTo(first);
        incidents.follow(List.of(), NONE_STANDS, NOON.plus(Duration.ofMinutes(9)));
        assertThat(incidents.follow(List.of(), NONE_STANDS, NOON.plus(Duration.ofMinutes(19))))
                .singleElement()
                .matches(incident -> incident.closedAt().isPresent());
        assertThat(follow(incidents, NOON.plus(Duration.ofMinutes(20)), "wet", NONE_STANDS)
                        .id())
                .isNotEqualTo(first);
    }

    private static Incident follow(
            Incidents incidents, Instant at, String definition, Function<AlarmId, Optional<Alarm>> standing) {
        incidents.follow(List.of(Alarms.raised("E-1", definition, at)), standing, at);
        return incidents.ofAlarm(new AlarmId("E-1", definition)).orElseThrow();
    }

    @Test
    void somebodyWhoAcknowledgesTakesItUntilItGetsWorse() {
        Incidents incidents = incidents();
        add(Alarms.definition("damp", ANY).group("leak"));
        follow(incidents, NOON, "damp", ALL_STAND);
        incidents.follow(
                List.of(new Transition(
                        new AlarmId("E-1", "damp"),
                        AlarmEvent.ACKNOWLEDGE,
                        AlarmState.UNACKNOWLEDGED,
                        AlarmState.ACKNOWLEDGED,
                        NOON,
                        "Ines",
                        "",
                        Optional.empty())),
                ALL_STAND,
                NOON);
        assertThat(incidents.open())
                .singleElement()
                .matches(incident -> incident.takenBy().equals(Optional.of("Ines")));
        Incident worse = follow(incidents, NOON.plusSeconds(60), "wet", ALL_STAND);
        assertThat(worse.takenBy()).isEmpty();
        assertThat(worse.lead()).isEqualTo(new AlarmId("E-1", "wet"));
        assertThat(worse.alarms()).hasSize(2);
    }

    @Test
    void incidentsGoOnAfterARestart() {
        Incidents incidents = incidents();
        Incident before = follow(incidents, NOON, "wet", ALL_STAND);
        Incidents later = incidents();
        later.restore(incidents.open());
        assertThat(follow(later, NOON.plusSeconds(30), "wet", ALL_STAND).id()).isEqualTo(before.id());
    }
}
