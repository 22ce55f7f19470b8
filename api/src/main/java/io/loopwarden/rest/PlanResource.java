package io.loopwarden.rest;

import io.loopwarden.plan.Job;
import io.loopwarden.plan.PlanCalendar;
import io.loopwarden.plan.PlanTable;
import io.loopwarden.plan.Planner;
import io.loopwarden.service.LoopwardenService;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.Produces;
import jakarta.ws.rs.QueryParam;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Work that falls due, by hall. */
@Path("/api/v1")
@Tag(name = "maintenance")
public class PlanResource {

    private static final int MOST_DAYS = 730;

    private final LoopwardenService service;
    private final Clock clock;

    PlanResource(LoopwardenService service, Clock clock) {
        this.service = service;
        this.clock = clock;
    }

    @GET
    @Path("plan")
    @Operation(summary = "Work that falls due within `days`, soonest first, with 80 % intervals")
    public List<Job> plan(@QueryParam("days") @DefaultValue("90") int days, @QueryParam("hall") String hall) {
        if (days < 1 || days > MOST_DAYS) {
            throw Problem.badRequest("'days' is " + days + ", must be 1 to " + MOST_DAYS);
        }
        return Planner.jobs(service.fleet().units(), clock.instant(), Duration.ofDays(days)).stream()
                .filter(job -> hall == null || hall.isEmpty() || job.hall().equals(hall))
                .toList();
    }

    @GET
    @Path("plan.ics")
    @Produces("text/calendar; charset=utf-8")
    @Operation(summary = "The same as iCalendar (RFC 5545); a calendar may subscribe to it")
    public String calendar(@QueryParam("days") @DefaultValue("90") int days, @QueryParam("hall") String hall) {
        return PlanCalendar.text(
                plan(days, hall), service.config().siteName(), service.config().zone(), clock.instant());
    }

    @GET
    @Path("plan.csv")
    @Produces("text/csv; charset=utf-8")
    @Operation(summary = "The same as comma-separated values")
    public String table(@QueryParam("days") @DefaultValue("90") int days, @QueryParam("hall") String hall) {
        return PlanTable.text(plan(days, hall));
    }
}
