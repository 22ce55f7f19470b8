package io.loopwarden.rest;

import io.loopwarden.compare.EvidenceSheet;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.service.LoopwardenService;
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
import java.util.List;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Where a unit's figures come from, with checksums. */
@Path("/api/v1/units/{unit}/evidence")
@Tag(name = "compare")
public class EvidenceResource {

    private static final int MOST_DAYS = 400;

    private final LoopwardenService service;
    private final Clock clock;

    EvidenceResource(LoopwardenService service, Clock clock) {
        this.service = service;
        this.clock = clock;
    }

    @GET
    @Operation(summary = "Samples and figures of the last `days` up to the last whole hour: counts, gaps and checksums")
    public EvidenceSheet evidence(@PathParam("unit") String unit, @QueryParam("days") @DefaultValue("30") int days)
            throws SQLException {
        if (days < 1 || days > MOST_DAYS) {
            throw Problem.badRequest("'days' is " + days + ", must be 1 to " + MOST_DAYS);
        }
        UnitNow now = FleetResource.find(service, unit);
        Instant to = clock.instant().truncatedTo(ChronoUnit.HOURS);
        List<PointName> points = List.copyOf(now.figures().latest().keySet());
        List<String> figures =
                now.figures().results().stream().map(IndicatorResult::key).toList();
        return EvidenceSheet.of(
                now.unit().id(),
                points,
                figures,
                service.store().reader(),
                service.store().figures().reader(),
                to.minus(Duration.ofDays(days)),
                to);
    }
}
