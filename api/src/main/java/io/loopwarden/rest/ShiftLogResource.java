package io.loopwarden.rest;

import io.loopwarden.security.Who;
import io.loopwarden.service.Alarms;
import io.loopwarden.store.alarm.ShiftNote;
import jakarta.ws.rs.Consumes;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.QueryParam;
import jakarta.ws.rs.core.MediaType;
import jakarta.ws.rs.core.Response;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.UUID;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** What a shift tells the next; notes are added, never changed. */
@Path("/api/v1/shift-log")
@Tag(name = "alarms")
public class ShiftLogResource {

    private static final int MOST = 1000;

    private final Alarms alarms;
    private final Who who;
    private final Clock clock;

    ShiftLogResource(Alarms alarms, Who who, Clock clock) {
        this.alarms = alarms;
        this.who = who;
        this.clock = clock;
    }

    @GET
    @Operation(summary = "Notes of a span, newest first")
    public List<ShiftNote> notes(@QueryParam("from") String from, @QueryParam("to") String to) throws SQLException {
        Span span = Span.of(from, to, clock.instant(), Duration.ofDays(7), Duration.ofDays(400));
        return alarms.shiftLog().between(span.from(), span.to(), MOST);
    }

    /** @param about an alarm, an incident, a unit; may be empty */
    public record NewNote(String note, String about) {}

    @POST
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "Adds a note")
    public Response add(NewNote asked) throws SQLException {
        Require.present("note", asked == null ? null : asked.note());
        String words = AlarmsResource.words(asked.note());
        if (words.isEmpty()) {
            throw Problem.badRequest("'note' is empty");
        }
        ShiftNote note = new ShiftNote(
                UUID.randomUUID(),
                clock.instant().truncatedTo(ChronoUnit.MICROS),
                who.name(),
                AlarmsResource.words(asked.about()),
                words);
        alarms.shiftLog().add(note);
        return Response.status(Response.Status.CREATED).entity(note).build();
    }
}
