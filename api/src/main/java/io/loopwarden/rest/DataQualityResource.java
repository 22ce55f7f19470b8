package io.loopwarden.rest;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.SourceClocks;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.samplelog.StoredCounts;
import io.loopwarden.service.Line;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.DataQuality;
import io.loopwarden.view.PointQuality;
import io.loopwarden.view.UnitQuality;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.QueryParam;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** What comes in and what does not. */
@Path("/api/v1/data-quality")
@Tag(name = "data quality")
public class DataQualityResource {

    private static final int MOST_HOURS = 168;

    private final LoopwardenService service;
    private final Clock clock;

    DataQualityResource(LoopwardenService service, Clock clock) {
        this.service = service;
        this.clock = clock;
    }

    @GET
    @Operation(summary = "Connections, what was refused and why, faults of the fleet folder, the store")
    public DataQuality dataQuality() {
        return DataQuality.of(
                service.lines(),
                service.rejects().entries(),
                service.config().faults(),
                service.store().kind(),
                service.logStatus(),
                service.spoolStatus());
    }

    @GET
    @Path("units")
    @Operation(
            summary =
                    "By unit since the start: stored, repeated, contradicting and late samples, and how far its clock is off")
    public List<UnitQuality> units() {
        Map<UnitId, StoredCounts> counts = service.store().countsByUnit();
        List<UnitQuality> units = new ArrayList<>();
        for (Line line : service.lines()) {
            for (Connection.ServedUnit served : line.connection().units()) {
                StoredCounts c = counts.getOrDefault(served.unit(), StoredCounts.NONE);
                Optional<SourceClocks.Delay> delay = line.intake().clocks().of(served.unit());
                units.add(new UnitQuality(
                        served.unit().value(),
                        line.connection().name(),
                        c.stored(),
                        c.duplicate(),
                        c.conflict(),
                        c.late(),
                        c.refused(),
                        delay.map(d -> d.last().toMillis()).orElse(null),
                        delay.map(d -> d.least().toMillis()).orElse(null)));
            }
        }
        return units;
    }

    @GET
    @Path("units/{unit}/points")
    @Operation(summary = "Each point of a unit over the last `hours`: rate, quality, gaps")
    public List<PointQuality> points(@PathParam("unit") String unit, @QueryParam("hours") @DefaultValue("24") int hours)
            throws SQLException {
        if (hours < 1 || hours > MOST_HOURS) {
            throw Problem.badRequest("'hours' is " + hours + ", must be 1 to " + MOST_HOURS);
        }
        UnitNow now = FleetResource.find(service, unit);
        Instant to = clock.instant().truncatedTo(ChronoUnit.MINUTES);
        Instant from = to.minus(Duration.ofHours(hours));
        List<PointQuality> points = new ArrayList<>();
        for (Map.Entry<PointName, Sample> newest : now.figures().latest().entrySet()) {
            PointName point = newest.getKey();
            points.add(PointQuality.of(
                    point,
                    service.store().reader().series(now.unit().id(), point, from, to, 60 * hours),
                    newest.getValue(),
                    from,
                    to));
        }
        return points;
    }
}
