package io.loopwarden.rest;

import io.loopwarden.compare.Comparison;
import io.loopwarden.compare.Grouping;
import io.loopwarden.compare.Measure;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.service.LoopwardenService;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.QueryParam;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Cohorts of units held against each other. */
@Path("/api/v1/compare")
@Tag(name = "compare")
public class CompareResource {

    private static final int MOST_DAYS = 3653;

    private final LoopwardenService service;
    private final Clock clock;

    CompareResource(LoopwardenService service, Clock clock) {
        this.service = service;
        this.clock = clock;
    }

    @GET
    @Operation(
            summary =
                    "One measure by cohort with intervals, every pair with a corrected probability, and each unit's value")
    public Comparison compare(
            @QueryParam("measure") @DefaultValue("fouling-rate") String measure,
            @QueryParam("by") @DefaultValue("supplier") String by,
            @QueryParam("days") @DefaultValue("90") int days)
            throws SQLException {
        if (days < 1 || days > MOST_DAYS) {
            throw Problem.badRequest("'days' is " + days + ", must be 1 to " + MOST_DAYS);
        }
        Instant to = clock.instant();
        return Comparison.of(
                Measure.of(measure).orElseThrow(() -> Problem.badRequest("no measure '" + measure + "'")),
                Grouping.of(by).orElseThrow(() -> Problem.badRequest("no grouping '" + by + "'")),
                service.fleet().units().stream().map(UnitNow::unit).toList(),
                service.store().maintenance().all(),
                service.store().figures().reader(),
                to.minus(Duration.ofDays(days)),
                to);
    }
}
