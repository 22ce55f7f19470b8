package io.loopwarden.rest;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.FigureSeriesView;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.QueryParam;
import java.sql.SQLException;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** The history of a figure, as it was worked out at the time. */
@Path("/api/v1/units/{unit}/figures/{key}/series")
@Tag(name = "history")
public class FigureSeriesResource {

    private final LoopwardenService service;

    FigureSeriesResource(LoopwardenService service) {
        this.service = service;
    }

    @GET
    @Operation(summary = "Minimum, maximum and mean of a figure in at most `width` steps of a minute or more")
    public FigureSeriesView series(
            @PathParam("unit") String unit,
            @PathParam("key") String key,
            @QueryParam("from") String from,
            @QueryParam("to") String to,
            @QueryParam("width") @DefaultValue("600") int width)
            throws SQLException {
        UnitId id = FleetResource.find(service, unit).unit().id();
        try {
            return FigureSeriesView.of(
                    id,
                    key,
                    service.store()
                            .figures()
                            .reader()
                            .series(id, key, SeriesResource.time("from", from), SeriesResource.time("to", to), width));
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }
}
