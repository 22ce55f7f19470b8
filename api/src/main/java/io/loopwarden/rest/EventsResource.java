package io.loopwarden.rest;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.store.FigureStore;
import io.loopwarden.view.MaintenanceView;
import io.loopwarden.view.UnitEvent;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.QueryParam;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** What happened to a unit lately. */
@Path("/api/v1/units/{unit}/events")
@Tag(name = "history")
public class EventsResource {

    private static final int MOST_DAYS = 14;
    private static final int STEPS_A_DAY = 288;

    private final LoopwardenService service;
    private final MaintenanceResource maintenance;
    private final Clock clock;

    EventsResource(LoopwardenService service, MaintenanceResource maintenance, Clock clock) {
        this.service = service;
        this.maintenance = maintenance;
        this.clock = clock;
    }

    @GET
    @Operation(summary = "Changed signals of functions, in steps of five minutes, and work written down; newest first")
    public List<UnitEvent> events(@PathParam("unit") String unit, @QueryParam("days") @DefaultValue("3") int days)
            throws SQLException {
        if (days < 1 || days > MOST_DAYS) {
            throw Problem.badRequest("'days' is " + days + ", must be 1 to " + MOST_DAYS);
        }
        UnitId id = FleetResource.find(service, unit).unit().id();
        Instant to = clock.instant();
        Instant from = to.minus(Duration.ofDays(days));
        List<UnitEvent> events = new ArrayList<>();
        for (UnitFunction function : UnitFunction.values()) {
            String key = FigureStore.SIGNAL
                    + function.name().toLowerCase(Locale.ROOT).replace('_', '-');
            events.addAll(UnitEvent.changes(
                    function, service.store().figures().reader().series(id, key, from, to, STEPS_A_DAY * days)));
        }
        for (MaintenanceView work : maintenance.of(unit)) {
            if (!work.withdrawn() && work.withdraws() == null && work.from().isAfter(from)) {
                events.add(UnitEvent.of(work));
            }
        }
        events.sort(Comparator.comparing(UnitEvent::at).reversed());
        return events;
    }
}
