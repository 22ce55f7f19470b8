package io.loopwarden.rest;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.SeriesView;
import io.loopwarden.view.UnitDetail.PointView;
import io.loopwarden.view.Views;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.QueryParam;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** The history of a point. */
@Path("/api/v1/units/{unit}/points/{point}")
@Tag(name = "history")
public class SeriesResource {

    private static final Duration MOST_RAW = Duration.ofDays(1);
    private static final int MOST_SAMPLES = 200_000;

    private final LoopwardenService service;

    SeriesResource(LoopwardenService service) {
        this.service = service;
    }

    @GET
    @Path("series")
    @Operation(summary = "Minimum, maximum, mean and last of a point in at most `width` steps; gaps are left out")
    public SeriesView series(
            @PathParam("unit") String unit,
            @PathParam("point") String point,
            @QueryParam("from") String from,
            @QueryParam("to") String to,
            @QueryParam("width") @DefaultValue("600") int width)
            throws SQLException {
        UnitId id = FleetResource.find(service, unit).unit().id();
        PointName name = point(point);
        try {
            return SeriesView.of(
                    id, name, service.store().reader().series(id, name, time("from", from), time("to", to), width));
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    @GET
    @Path("samples")
    @Operation(summary = "Every sample of a point as its source sent it, over at most a day")
    public List<PointView> samples(
            @PathParam("unit") String unit,
            @PathParam("point") String point,
            @QueryParam("from") String from,
            @QueryParam("to") String to)
            throws SQLException {
        UnitId id = FleetResource.find(service, unit).unit().id();
        PointName name = point(point);
        Instant begin = time("from", from);
        Instant end = time("to", to);
        if (!end.isAfter(begin) || Duration.between(begin, end).compareTo(MOST_RAW) > 0) {
            throw Problem.badRequest("'to' must be after 'from' by at most a day; ask for 'series' over longer ranges");
        }
        List<PointView> samples = new ArrayList<>();
        service.store().reader().samples(id, name, begin, end, sample -> add(samples, sample));
        return samples;
    }

    private static void add(List<PointView> samples, Sample sample) {
        if (samples.size() >= MOST_SAMPLES) {
            throw Problem.badRequest("more than " + MOST_SAMPLES + " samples in that range; ask for less time at once");
        }
        samples.add(Views.point(sample));
    }

    private static PointName point(String name) {
        try {
            return PointName.of(name);
        } catch (IllegalArgumentException e) {
            throw Problem.notFound(e.getMessage());
        }
    }

    static Instant time(String name, String text) {
        if (text == null) {
            throw Problem.badRequest("query parameter '" + name + "' is missing: a time such as 2026-11-25T08:00:00Z");
        }
        try {
            return Instant.parse(text);
        } catch (DateTimeParseException e) {
            throw Problem.badRequest("'" + name + "' is '" + text + "', must be a time such as 2026-11-25T08:00:00Z");
        }
    }
}
