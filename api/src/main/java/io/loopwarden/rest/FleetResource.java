package io.loopwarden.rest;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.FleetView;
import io.loopwarden.view.RowTexts;
import io.loopwarden.view.UnitDetail;
import io.loopwarden.view.Views;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.Produces;
import jakarta.ws.rs.core.MediaType;
import java.nio.charset.StandardCharsets;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.responses.APIResponseSchema;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** The fleet and its units as they are now. */
@Path("/api/v1")
@Tag(name = "fleet")
public class FleetResource {

    private final LoopwardenService service;
    private final Views views;
    private final RowTexts rows;

    FleetResource(LoopwardenService service, Views views, RowTexts rows) {
        this.service = service;
        this.views = views;
        this.rows = rows;
    }

    @GET
    @Path("fleet")
    @Operation(summary = "Every unit with its figures, signal and connection")
    @Produces(MediaType.APPLICATION_JSON)
    @APIResponseSchema(FleetView.class)
    public String fleet() {
        return new String(rows.fleet(service.fleet().units()), StandardCharsets.UTF_8);
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
