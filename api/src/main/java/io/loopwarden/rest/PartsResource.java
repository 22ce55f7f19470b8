package io.loopwarden.rest;

import io.loopwarden.availability.UnitLife;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.AvailabilityView;
import io.loopwarden.view.PartsView;
import io.loopwarden.watch.Background;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import java.util.ArrayList;
import java.util.List;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Each filter, pump, loop and sensor of a unit, and how units have fared. */
@Path("/api/v1")
@Tag(name = "fleet")
public class PartsResource {

    private final LoopwardenService service;

    PartsResource(LoopwardenService service) {
        this.service = service;
    }

    @GET
    @Path("units/{unit}/parts")
    @Operation(summary = "Filters, strainer, pumps, control loops and distrusted sensors of a unit; its least reserve")
    public PartsView parts(@PathParam("unit") String unit) {
        return PartsView.of(FleetResource.find(service, unit));
    }

    @GET
    @Path("units/{unit}/availability")
    @Operation(
            summary = "Time in each condition, availability and time between failures of a unit; unknown is never up")
    public AvailabilityView availability(@PathParam("unit") String unit) {
        UnitNow now = FleetResource.find(service, unit);
        return AvailabilityView.ofUnit(now.unit().id().value(), life(now));
    }

    @GET
    @Path("availability")
    @Operation(summary = "The same of the fleet as one and of each unit")
    public AvailabilityView.Fleet fleet() {
        List<UnitLife> lives = new ArrayList<>();
        List<AvailabilityView> units = new ArrayList<>();
        for (UnitNow now : service.fleet().units()) {
            lives.add(life(now));
            units.add(AvailabilityView.ofUnit(now.unit().id().value(), life(now)));
        }
        return new AvailabilityView.Fleet(AvailabilityView.ofFleet(lives), units);
    }

    private static UnitLife life(UnitNow now) {
        return now.figures().background().map(Background::life).orElse(UnitLife.NEW);
    }
}
