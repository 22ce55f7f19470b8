package io.loopwarden.rest;

import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.FoundTag;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetfile.FleetFolderEdit;
import io.loopwarden.fleetfile.FleetFolderEdit.Addition;
import io.loopwarden.fleetfile.FleetFolderEdit.NewConnection;
import io.loopwarden.fleetfile.NameplateFile;
import io.loopwarden.pointmap.PointMap;
import io.loopwarden.pointmap.PointMapFile;
import io.loopwarden.service.Line;
import io.loopwarden.service.Look;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.service.Metrics;
import io.loopwarden.setup.MapLine;
import io.loopwarden.setup.MapPhysics;
import io.loopwarden.setup.MapProposal;
import io.loopwarden.setup.MapText;
import io.loopwarden.view.SetupView;
import io.loopwarden.view.SetupView.Checked;
import io.loopwarden.view.SetupView.LineView;
import io.loopwarden.view.SetupView.TagView;
import jakarta.ws.rs.Consumes;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.core.MediaType;
import jakarta.ws.rs.core.Response;
import java.io.IOException;
import java.net.URI;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Semaphore;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Adding a unit step by step: look at the source, propose a map, hold it against physics, take it into service. */
@Path("/api/v1/setup")
@Consumes(MediaType.APPLICATION_JSON)
@Tag(name = "set-up")
public class SetupResource {

    private static final int MOST_SECONDS = 30;
    private static final int DEFAULT_SECONDS = 5;

    /** Looking opens a connection and waits: one at a time is enough for people. */
    private final Semaphore looking = new Semaphore(1);

    private final LoopwardenService service;
    private final Metrics metrics;
    private final SetupFiles files;
    private final Clock clock;

    SetupResource(LoopwardenService service, Metrics metrics, Clock clock) {
        this.service = service;
        this.metrics = metrics;
        this.files = new SetupFiles(service.folder());
        this.clock = clock;
    }

    @GET
    @Operation(summary = "Connections, halls, nameplates and maps there are to build on")
    public SetupView.Choices choices() {
        return new SetupView.Choices(
                service.config().connections().stream()
                        .map(each -> new SetupView.ConnectionChoice(
                                each.name(), each.protocol(), each.endpoint().toString()))
                        .toList(),
                service.config().units().stream()
                        .map(unit -> unit.hall())
                        .distinct()
                        .sorted()
                        .toList(),
                files.nameplates().stream()
                        .map(file -> new SetupView.PlateChoice(
                                file.name(),
                                file.nameplate().supplier(),
                                file.nameplate().model()))
                        .toList(),
                files.maps().stream()
                        .map(file -> new SetupView.MapChoice(
                                file.map().name(),
                                file.supplier(),
                                file.model(),
                                file.map().protocol()))
                        .toList(),
                Points.vocabulary().keySet().stream().sorted().toList());
    }

    @POST
    @Path("look")
    @Operation(summary = "Listens to a broker, browses an OPC UA server or reads registers by a map; changes nothing")
    public List<TagView> look(SetupView.LookRequest request) throws InterruptedException {
        Connection connection = connection(request);
        int seconds = request.seconds() == null ? DEFAULT_SECONDS : request.seconds();
        if (seconds < 1 || seconds > MOST_SECONDS) {
            throw Problem.badRequest("'seconds' is " + seconds + ", must be 1 to " + MOST_SECONDS);
        }
        if (!looking.tryAcquire()) {
            throw Problem.badRequest("somebody is looking at a source already; try again in a moment");
        }
        try {
            List<FoundTag> found = Look.at(connection, Duration.ofSeconds(seconds), clock, service.data());
            return found.stream().map(TagView::of).toList();
        } catch (ConfigurationException e) {
            throw Problem.badRequest(String.join("; ", e.faults()));
        } catch (IOException e) {
            throw Problem.badRequest("the source does not answer as it should: " + e.getMessage());
        } finally {
            looking.release();
        }
    }

    private Connection connection(SetupView.LookRequest request) {
        Optional<Connection> known = service.config().connections().stream()
                .filter(each -> each.name().equals(request.connection()))
                .findFirst();
        String protocol = known.map(Connection::protocol).orElse(String.valueOf(request.protocol()));
        if (!PointMapFile.PROTOCOLS.contains(protocol)) {
            throw Problem.badRequest("'" + protocol + "' is not one of " + PointMapFile.PROTOCOLS);
        }
        Map<String, String> settings = known.map(Connection::settings).orElseGet(() -> given(request.settings()));
        URI endpoint = known.map(Connection::endpoint).orElseGet(() -> endpoint(request.endpoint()));
        List<Connection.ServedUnit> served = List.of();
        if (protocol.equals("modbus-tcp")) {
            PointMap map = files.map(String.valueOf(request.map())).map();
            served = List.of(new Connection.ServedUnit(
                    new UnitId("look"), request.nameAtSource() == null ? "1" : request.nameAtSource(), map));
        }
        return new Connection("look", protocol, endpoint, settings, served);
    }

    /** Passwords, keys and files are set in the fleet folder by whoever has access to the machine. */
    private static Map<String, String> given(Map<String, String> settings) {
        Map<String, String> all = settings == null ? Map.of() : settings;
        all.forEach((key, value) -> {
            if (key.matches(".*(password|certificate|key|file|folder|variable).*") || value.contains("${")) {
                throw Problem.badRequest("setting '" + key + "' can only be set in the fleet folder itself");
            }
        });
        return all;
    }

    private static URI endpoint(String text) {
        try {
            if (text == null || text.isBlank() || text.contains("${")) {
                throw new IllegalArgumentException("is missing, or holds a variable");
            }
            return URI.create(text.strip());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest("endpoint '" + text + "' " + e.getMessage());
        }
    }

    @POST
    @Path("proposal")
    @Operation(summary = "A point map from names, units and live values of tags, held against physics")
    public Checked proposal(SetupView.ProposalRequest request) {
        Nameplate nameplate = files.nameplate(request.nameplate()).nameplate();
        List<FoundTag> tags = request.tags().stream().map(TagView::tag).toList();
        boolean there = request.map() != null && !request.map().isBlank();
        return checked(
                there
                        ? byMap(files.map(request.map()).map(), String.valueOf(request.nameAtSource()), tags)
                        : MapProposal.propose(tags, nameplate),
                nameplate);
    }

    /** What the tags come to by a map that is there; in inner units, since the map has converted already. */
    private static List<MapLine> byMap(PointMap map, String nameAtSource, List<FoundTag> tags) {
        Map<String, PointMap.Entry> entries = map.bySource(nameAtSource);
        List<MapLine> lines = new ArrayList<>();
        for (FoundTag tag : tags) {
            PointMap.Entry entry = entries.get(tag.source());
            OptionalDouble raw = MapProposal.number(tag.value().value());
            if (entry != null) {
                OptionalDouble value =
                        raw.isPresent() ? OptionalDouble.of(entry.conversion().apply(raw.getAsDouble())) : raw;
                String ucum = entry.point().quantity().ucum();
                lines.add(new MapLine(entry.point(), tag.source(), ucum, 1, 0, 1, value));
            }
        }
        return lines;
    }

    @POST
    @Path("check")
    @Operation(summary = "Holds lines of a map and their live values against physics")
    public Checked check(SetupView.CheckRequest request) {
        return checked(
                lines(request.lines()), files.nameplate(request.nameplate()).nameplate());
    }

    private static Checked checked(List<MapLine> lines, Nameplate nameplate) {
        return new Checked(
                lines.stream().map(LineView::of).toList(),
                MapPhysics.check(lines, nameplate).stream()
                        .map(SetupView.FindingView::of)
                        .toList());
    }

    private static List<MapLine> lines(List<LineView> views) {
        try {
            return views.stream().map(LineView::line).toList();
        } catch (IllegalArgumentException | NullPointerException e) {
            throw Problem.badRequest("a line of the map cannot be read: " + e.getMessage());
        }
    }

    @POST
    @Path("units")
    @Operation(summary = "Writes the unit into the fleet folder and takes it into service without a restart")
    public Response add(SetupView.UnitRequest request) throws IOException {
        NameplateFile plate = files.nameplate(request.nameplate());
        boolean known = service.config().connections().stream()
                .anyMatch(each -> each.name().equals(request.connection()));
        boolean newMap = request.lines() != null && !request.lines().isEmpty();
        Map<String, String> added = newMap
                ? Map.of("maps/" + request.map() + ".yaml", mapText(request, plate, protocol(request, known)))
                : Map.of();
        Optional<NewConnection> connection = known
                ? Optional.empty()
                : Optional.of(new NewConnection(
                        protocol(request, false), endpoint(request.endpoint()).toString(), given(request.settings())));
        Addition addition = new Addition(
                text("id", request.id()),
                text("hall", request.hall()),
                request.nameplate(),
                text("connection", request.connection()),
                text("nameAtSource", request.nameAtSource()),
                text("map", request.map()),
                connection,
                added);
        try {
            service.takeIn(new FleetFolderEdit(service.folder()).add(addition));
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
        service.line(request.connection()).ifPresent((Line line) -> metrics.register(line));
        return Response.status(Response.Status.CREATED)
                .entity(Map.of("unit", request.id()))
                .build();
    }

    private String protocol(SetupView.UnitRequest request, boolean known) {
        return known
                ? service.config().connections().stream()
                        .filter(each -> each.name().equals(request.connection()))
                        .map(Connection::protocol)
                        .findFirst()
                        .orElseThrow()
                : String.valueOf(request.protocol());
    }

    private static String mapText(SetupView.UnitRequest request, NameplateFile plate, String protocol) {
        return MapText.of(
                request.map(),
                plate.nameplate().supplier(),
                plate.nameplate().model(),
                protocol,
                lines(request.lines()),
                request.nameAtSource());
    }

    private static String text(String field, String value) {
        if (value == null
                || value.isBlank()
                || value.contains("${")
                || value.chars().anyMatch(Character::isISOControl)) {
            throw Problem.badRequest("'" + field + "' is missing or not usable: " + value);
        }
        return value.strip();
    }
}
