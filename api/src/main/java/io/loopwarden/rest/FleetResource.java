package io.loopwarden.rest;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.FleetView;
import io.loopwarden.view.UnitDetail;
import io.loopwarden.view.Views;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** The fleet and its units as they are now. */
@Path("/api/v1")
@Tag(name = "fleet")
public class FleetResource {

    private final LoopwardenService service;
    private final Views views;

    FleetResource(LoopwardenService service, Views views) {
        this.service = service;
        this.views = views;
    }

    @GET
    @Path("fleet")
    @Operation(summary = "Every unit with its figures, signal and connection")
    public FleetView fleet() {
        return views.fleet(service.fleet().units());
    }

    @GET
    @Path("units/{unit}")
    @Operation(summary = "One unit in full: figures in words, nameplate, newest sample of every point")
    public UnitDetail unit(@PathParam("unit") String unit) {
        return views.detail(find(service, unit));
    }

    static UnitNow find(LoopwardenService service, String unit) {
        try {
            return service.fleet()
                    .unit(new UnitId(unit))
                    .orElseThrow(() -> Problem.notFound("no unit '" + unit + "' in the fleet"));
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }
}
