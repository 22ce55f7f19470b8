package io.loopwarden.rest;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.security.Who;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.MaintenanceView;
import io.loopwarden.view.WorkResult;
import jakarta.ws.rs.Consumes;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.core.MediaType;
import jakarta.ws.rs.core.Response;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** The maintenance log: entries are added and withdrawn by a counter-entry, never changed. */
@Path("/api/v1")
@Tag(name = "maintenance")
public class MaintenanceResource {

    private static final int MOST_NOTE = 2000;

    private final LoopwardenService service;
    private final Who who;
    private final Clock clock;

    MaintenanceResource(LoopwardenService service, Who who, Clock clock) {
        this.service = service;
        this.who = who;
        this.clock = clock;
    }

    @GET
    @Path("maintenance")
    @Operation(summary = "Every entry of the fleet, withdrawn ones marked, in the order of the work")
    public List<MaintenanceView> all() throws SQLException {
        return views(service.store().maintenance().all());
    }

    @GET
    @Path("units/{unit}/maintenance")
    @Operation(summary = "Every entry of a unit")
    public List<MaintenanceView> of(@PathParam("unit") String unit) throws SQLException {
        UnitId id = FleetResource.find(service, unit).unit().id();
        return views(service.store().maintenance().of(id));
    }

    @POST
    @Path("units/{unit}/maintenance")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "Adds an entry; it reaches the unit's figures at once")
    public Response add(@PathParam("unit") String unit, MaintenanceRequest request) throws SQLException {
        if (request == null) {
            throw Problem.badRequest("the entry is missing; send it as JSON");
        }
        UnitId id = FleetResource.find(service, unit).unit().id();
        MaintenanceEntry entry = request.entry(id, who.name(), now());
        service.accept(entry);
        return Response.status(Response.Status.CREATED)
                .entity(MaintenanceView.of(entry, false))
                .build();
    }

    /** @param note why it is withdrawn */
    public record Withdrawal(String note) {}

    @POST
    @Path("units/{unit}/maintenance/{id}/withdrawal")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "Makes an entry void by a counter-entry; both stay in the log")
    public Response withdraw(@PathParam("unit") String unit, @PathParam("id") String id, Withdrawal withdrawal)
            throws SQLException {
        UnitId unitId = FleetResource.find(service, unit).unit().id();
        List<MaintenanceEntry> entries = service.store().maintenance().of(unitId);
        MaintenanceEntry voided = entry(entries, unit, id);
        if (voided.kind() == MaintenanceKind.WITHDRAWAL) {
            throw Problem.badRequest("a withdrawal cannot be withdrawn; write the work down again instead");
        }
        if (entries.stream().anyMatch(entry -> entry.withdraws().equals(Optional.of(voided.id())))) {
            throw Problem.badRequest("entry " + id + " is withdrawn already");
        }
        MaintenanceEntry entry = new MaintenanceEntry(
                UUID.randomUUID(),
                unitId,
                MaintenanceKind.WITHDRAWAL,
                voided.part(),
                voided.from(),
                voided.until(),
                who.name(),
                now(),
                note(withdrawal),
                Optional.empty(),
                Optional.empty(),
                Optional.of(voided.id()));
        service.accept(entry);
        return Response.status(Response.Status.CREATED)
                .entity(MaintenanceView.of(entry, false))
                .build();
    }

    @GET
    @Path("units/{unit}/maintenance/{id}/result")
    @Operation(summary = "Figures over up to 7 days before and after the work, where such work should move one")
    public List<WorkResult> result(@PathParam("unit") String unit, @PathParam("id") String id) throws SQLException {
        UnitId unitId = FleetResource.find(service, unit).unit().id();
        MaintenanceEntry entry = entry(service.store().maintenance().of(unitId), unit, id);
        return WorkResult.of(entry, service.store().figures().reader(), now());
    }

    private static MaintenanceEntry entry(List<MaintenanceEntry> entries, String unit, String id) {
        return entries.stream()
                .filter(entry -> entry.id().toString().equals(id))
                .findFirst()
                .orElseThrow(() -> Problem.notFound("no maintenance entry " + id + " of unit " + unit));
    }

    private static String note(Withdrawal withdrawal) {
        try {
            return MaintenanceRequest.text("note", withdrawal == null ? "" : withdrawal.note(), MOST_NOTE);
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    /** As fine as the store keeps it, so that what is answered now is what is read back later. */
    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MICROS);
    }

    private static List<MaintenanceView> views(List<MaintenanceEntry> entries) {
        Set<UUID> withdrawn = new HashSet<>();
        entries.forEach(entry -> entry.withdraws().ifPresent(withdrawn::add));
        return entries.stream()
                .map(entry -> MaintenanceView.of(entry, withdrawn.contains(entry.id())))
                .toList();
    }
}
