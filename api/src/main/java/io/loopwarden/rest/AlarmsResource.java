package io.loopwarden.rest;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.AlarmEvent;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Change;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarm.Performance;
import io.loopwarden.alarm.Transition;
import io.loopwarden.alarmdesk.AlarmDesk.Answer;
import io.loopwarden.alarmdesk.Snapshot;
import io.loopwarden.oncall.Decisions.Hold;
import io.loopwarden.security.Who;
import io.loopwarden.service.Alarms;
import io.loopwarden.view.AlarmView;
import io.loopwarden.view.DefinitionView;
import io.loopwarden.view.IncidentView;
import io.loopwarden.view.MessageView;
import io.loopwarden.view.PerformanceView;
import io.loopwarden.view.TransitionView;
import jakarta.ws.rs.Consumes;
import jakarta.ws.rs.DefaultValue;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.QueryParam;
import jakarta.ws.rs.core.MediaType;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Alarms as they stand, what operators do with them, their history and figures. */
@Path("/api/v1")
@Tag(name = "alarms")
public class AlarmsResource {

    private static final int MOST_LISTED = 1000;
    private static final int MOST_HISTORY = 500;
    private static final int MOST_WORDS = 1000;
    private static final Duration LONGEST_SHELF = Duration.ofDays(30);
    private static final Duration LONGEST_SPAN = Duration.ofDays(400);

    private final Alarms alarms;
    private final Who who;
    private final Clock clock;

    AlarmsResource(Alarms alarms, Who who, Clock clock) {
        this.alarms = alarms;
        this.who = who;
        this.clock = clock;
    }

    /**
     * The alarm list.
     *
     * @param total how many alarms match; more than are listed only beyond a thousand
     * @param counts of every alarm, by state
     * @param holds who is left in peace for now, and why
     * @param kept false while changes wait for the store
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record AlarmList(
            Instant at,
            long version,
            Instant floodSince,
            boolean kept,
            int total,
            Map<String, Integer> counts,
            List<IncidentView> incidents,
            List<AlarmView> alarms,
            List<Hold> holds) {}

    @GET
    @Path("alarms")
    @Operation(
            summary =
                    "Alarms that stand, most urgent first; show=kept-away lists those that are shelved, suppressed or out of service")
    public AlarmList list(@QueryParam("show") @DefaultValue("standing") String show, @QueryParam("unit") String unit) {
        if (!List.of("standing", "kept-away").contains(show)) {
            throw Problem.badRequest("'show' is '" + show + "', must be standing or kept-away");
        }
        Snapshot now = alarms.desk().snapshot();
        boolean standing = show.equals("standing");
        Map<String, Integer> counts = new TreeMap<>();
        now.alarms().values().forEach(alarm -> counts.merge(word(alarm.state()), 1, Integer::sum));
        List<AlarmView> views = now.alarms().values().stream()
                .filter(alarm -> alarm.state().stands() == standing)
                .filter(alarm -> unit == null || alarm.id().source().equals(unit))
                .map(alarm -> view(alarm, now))
                .sorted(MOST_URGENT_FIRST)
                .toList();
        return new AlarmList(
                now.at(),
                now.version(),
                now.floodSince().orElse(null),
                now.kept(),
                views.size(),
                counts,
                now.open().stream().map(this::view).toList(),
                views.stream().limit(MOST_LISTED).toList(),
                alarms.onCall().holds());
    }

    private static final Comparator<AlarmView> MOST_URGENT_FIRST = Comparator.comparing(
                    (AlarmView view) -> view.awaitsAcknowledgement() ? 0 : 1)
            .thenComparing(view -> List.of("high", "medium", "low").indexOf(view.priority()))
            .thenComparing(AlarmView::since, Comparator.reverseOrder())
            .thenComparing(AlarmView::id);

    /** @param messages what was sent, or waits to be, because of its incident */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record AlarmDetail(
            Instant at,
            AlarmView alarm,
            DefinitionView definition,
            IncidentView incident,
            List<TransitionView> history,
            List<MessageView> messages,
            List<Hold> holds) {}

    @GET
    @Path("alarms/{source}/{definition}")
    @Operation(summary = "One alarm with its evidence, consequence, first action, history and messages")
    public AlarmDetail one(@PathParam("source") String source, @PathParam("definition") String definition)
            throws SQLException {
        AlarmId id = id(source, definition);
        Snapshot now = alarms.desk().snapshot();
        List<TransitionView> history = new ArrayList<>(alarms.store().history(id, MOST_HISTORY).stream()
                .map(TransitionView::of)
                .toList());
        Collections.reverse(history);
        Alarm alarm = now.alarms().get(id);
        if (alarm == null && history.isEmpty() && alarms.definition(definition).isEmpty()) {
            throw Problem.notFound("there is no alarm " + id);
        }
        Optional<String> incident = Optional.ofNullable(now.incidentOf().get(id));
        Optional<Incident> open = now.open().stream()
                .filter(each -> incident.filter(each.id()::equals).isPresent())
                .findFirst();
        return new AlarmDetail(
                now.at(),
                view(alarm == null ? Alarm.normal(id, now.at()) : alarm, now),
                alarms.definition(definition).map(DefinitionView::of).orElse(null),
                open.map(this::view).orElse(null),
                history,
                incident.isPresent() ? messages(incident.get()) : List.of(),
                alarms.onCall().holds().stream()
                        .filter(hold -> incident.filter(hold.incident()::equals).isPresent())
                        .toList());
    }

    private List<MessageView> messages(String incident) throws SQLException {
        return alarms.outbox().ofIncident(incident).stream()
                .map(MessageView::of)
                .toList();
    }

    /**
     * What an operator asks for.
     *
     * @param why needed for shelve, remove and return
     * @param minutes how long to shelve
     */
    public record Command(String why, Integer minutes) {}

    @POST
    @Path("alarms/{source}/{definition}/{action}")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "acknowledge, reset, shelve, unshelve, remove (from service) or return (to service)")
    public AlarmView act(
            @PathParam("source") String source,
            @PathParam("definition") String definition,
            @PathParam("action") String action,
            Command command) {
        Command asked = command == null ? new Command("", null) : command;
        AlarmId id = id(source, definition);
        Function<Instant, Change> change = change(action, asked, who.name());
        return done(alarms.desk().command(id, change).join());
    }

    private static Function<Instant, Change> change(String action, Command asked, String by) {
        String why = words(asked.why());
        return switch (action) {
            case "acknowledge" -> at -> Change.byPerson(AlarmEvent.ACKNOWLEDGE, at, by, why);
            case "reset" -> at -> Change.byPerson(AlarmEvent.RESET, at, by, why);
            case "unshelve" -> at -> Change.byPerson(AlarmEvent.UNSHELVE, at, by, why);
            case "shelve" -> {
                needs(action, why);
                if (asked.minutes() == null || asked.minutes() < 1 || asked.minutes() > LONGEST_SHELF.toMinutes()) {
                    throw Problem.badRequest("'minutes' must be 1 to " + LONGEST_SHELF.toMinutes()
                            + ": an alarm is shelved for a time, never for good");
                }
                yield at -> Change.shelve(at, by, why, at.plus(Duration.ofMinutes(asked.minutes())));
            }
            case "remove" -> {
                needs(action, why);
                yield at -> Change.byPerson(AlarmEvent.REMOVE, at, by, why);
            }
            case "return" -> at -> Change.byPerson(AlarmEvent.RETURN, at, by, why);
            default ->
                throw Problem.notFound(
                        "'" + action + "' is not one of acknowledge, reset, shelve, unshelve, remove, return");
        };
    }

    static String words(String text) {
        String words = text == null ? "" : text.strip();
        if (words.length() > MOST_WORDS || words.indexOf('\0') >= 0) {
            throw Problem.badRequest("more than " + MOST_WORDS + " characters, or a zero byte");
        }
        return words;
    }

    private static void needs(String action, String why) {
        if (why.isEmpty()) {
            throw Problem.badRequest("'why' is missing: to " + action + " an alarm needs a reason");
        }
    }

    private AlarmView done(Answer answer) {
        if (answer instanceof Answer.Refused refused) {
            throw Problem.conflict(refused.reason());
        }
        if (answer instanceof Answer.NotKept late) {
            throw Problem.unavailable(late.reason());
        }
        return view(((Answer.Done) answer).alarm(), alarms.desk().snapshot());
    }

    @GET
    @Path("incidents")
    @Operation(summary = "Incidents that began in a span, newest first")
    public List<IncidentView> incidents(@QueryParam("from") String from, @QueryParam("to") String to)
            throws SQLException {
        Span span = Span.of(from, to, clock.instant(), Duration.ofDays(7), LONGEST_SPAN);
        return alarms.store().incidents(span.from(), span.to(), MOST_LISTED).stream()
                .map(this::view)
                .toList();
    }

    public record IncidentDetail(IncidentView incident, List<MessageView> messages) {}

    @GET
    @Path("incidents/{id}")
    @Operation(summary = "One incident and its messages")
    public IncidentDetail incident(@PathParam("id") String id) throws SQLException {
        Incident incident =
                alarms.store().incident(id).orElseThrow(() -> Problem.notFound("there is no incident " + id));
        return new IncidentDetail(view(incident), messages(id));
    }

    @POST
    @Path("incidents/{id}/acknowledge")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "Acknowledges every alarm of an incident that waits for it")
    public List<AlarmView> acknowledgeAll(@PathParam("id") String id, Command command) {
        Incident incident = alarms.desk().snapshot().open().stream()
                .filter(each -> each.id().equals(id))
                .findFirst()
                .orElseThrow(() -> Problem.notFound("there is no open incident " + id));
        Command asked = command == null ? new Command("", null) : command;
        Function<Instant, Change> change = change("acknowledge", asked, who.name());
        List<AlarmView> views = new ArrayList<>();
        for (AlarmId alarm : incident.alarms()) {
            Answer answer = alarms.desk().command(alarm, change).join();
            if (!(answer instanceof Answer.Refused)) {
                views.add(done(answer));
            }
        }
        return views;
    }

    @GET
    @Path("alarm-history")
    @Operation(summary = "Every transition of a span, oldest first: what, who, when, why")
    public List<TransitionView> history(@QueryParam("from") String from, @QueryParam("to") String to)
            throws SQLException {
        Span span = Span.of(from, to, clock.instant(), Duration.ofHours(24), LONGEST_SPAN);
        return alarms.store().history(span.from(), span.to()).stream()
                .map(TransitionView::of)
                .toList();
    }

    @GET
    @Path("alarm-performance")
    @Operation(summary = "Figures of IEC 62682 and EEMUA 191 for a span")
    public PerformanceView performance(@QueryParam("from") String from, @QueryParam("to") String to)
            throws SQLException {
        Span span = Span.of(from, to, clock.instant(), Duration.ofDays(7), LONGEST_SPAN);
        List<Transition> history = alarms.store().history(span.from(), span.to());
        return PerformanceView.of(Performance.of(
                history,
                List.copyOf(alarms.desk().snapshot().alarms().values()),
                alarms::definition,
                span.from(),
                span.to(),
                alarms.plans().current().operators()));
    }

    private static AlarmId id(String source, String definition) {
        try {
            return new AlarmId(source, definition);
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    private AlarmView view(Alarm alarm, Snapshot now) {
        return AlarmView.of(
                alarm,
                alarms.definition(alarm.id().definition()),
                alarms.hallOf(alarm.id().source()),
                now.incidentOf().get(alarm.id()));
    }

    private IncidentView view(Incident incident) {
        return IncidentView.of(incident, alarms.definition(incident.lead().definition()));
    }

    private static String word(Enum<?> name) {
        return name.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
