package io.loopwarden.view;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetfile.FleetFolder;
import io.loopwarden.fleetstate.FleetState;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** A row that is written once says what it would say if it were written each time. */
class RowTextsTest {

    private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");

    private final ObjectMapper json = new ObjectMapper()
            .registerModule(new JavaTimeModule())
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS);
    private final Clock clock = Clock.fixed(NOON, ZoneOffset.UTC);
    private final FleetState fleet = new FleetState(
            FleetFolder.load(Path.of("src/test/resources/system/fleet")).units(), clock);
    private Optional<ConnectionStatus> connection = Optional.empty();
    private final Views views = new Views(clock, new FleetView.Site("Test bench", "+01:00"), unit -> connection);
    private final RowTexts rows = new RowTexts(views, json);

    @Test
    void theFleetReadsTheSameWrittenOnceOrEachTime() throws Exception {
        assertSame();
        assertSame();
        fleet.accept(
                new Scan(new UnitId("X-01"), NOON, List.of(Sample.good(Points.TCS_SUPPLY_TEMPERATURE, NOON, 31.5))));
        fleet.evaluate();
        assertSame();
        connection = Optional.of(new ConnectionStatus(
                "bench", "mqtt-json", ConnectionStatus.State.LOST, NOON, Optional.empty(), "gone"));
        assertSame();
        assertThat(new String(rows.fleet(fleet.units()))).contains("\"lost\"", "2026-11-25T12:00:00Z");
    }

    @Test
    void aFleetWithoutUnitsIsAnEmptyList() throws Exception {
        assertThat(json.readTree(rows.fleet(List.of())).get("units")).isEmpty();
    }

    private void assertSame() throws Exception {
        assertThat(json.readTree(rows.fleet(fleet.units())))
                .isEqualTo(json.readTree(json.writeValueAsBytes(views.fleet(fleet.units()))));
    }
}
