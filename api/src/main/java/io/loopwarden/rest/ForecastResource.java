package io.loopwarden.rest;

import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.ForecastView;
import io.loopwarden.watch.UnitMemory;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import java.util.List;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** When a unit's figures reach their limits. */
@Path("/api/v1/units/{unit}/forecasts")
@Tag(name = "history")
public class ForecastResource {

    private final LoopwardenService service;

    ForecastResource(LoopwardenService service) {
        this.service = service;
    }

    @GET
    @Operation(summary = "Forecasts with 80 % and 95 % intervals, or why there is none; empty before a first whole day")
    public List<ForecastView> forecasts(@PathParam("unit") String unit) {
        UnitNow now = FleetResource.find(service, unit);
        return ForecastView.fouling(
                service.fleet().memory(now.unit().id()).flatMap(UnitMemory::fouling),
                now.unit().nameplate());
    }
}
