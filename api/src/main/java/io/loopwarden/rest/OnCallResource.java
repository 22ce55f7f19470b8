package io.loopwarden.rest;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.oncall.Dispatcher.ChannelState;
import io.loopwarden.oncall.Duty;
import io.loopwarden.oncall.OnCallPlan;
import io.loopwarden.oncall.OnCallPlan.Contact;
import io.loopwarden.oncall.OnCallPlan.Cover;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.Plans;
import io.loopwarden.security.Role;
import io.loopwarden.security.Who;
import io.loopwarden.service.Alarms;
import io.loopwarden.view.MessageView;
import io.loopwarden.yaml.Fault;
import jakarta.ws.rs.Consumes;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.PUT;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import jakarta.ws.rs.core.MediaType;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** People, rotas, escalation, and what became of messages. */
@Path("/api/v1/on-call")
@Tag(name = "on-call")
public class OnCallResource {

    private static final int MOST_MESSAGES = 200;
    private static final int MOST_VERSIONS = 20;
    private static final int MOST_COVERS = 500;
    private static final Duration LONGEST_COVER = Duration.ofDays(60);

    private final Alarms alarms;
    private final Who who;
    private final Clock clock;

    OnCallResource(Alarms alarms, Who who, Clock clock) {
        this.alarms = alarms;
        this.who = who;
        this.clock = clock;
    }

    /** One version of the plan, without the plan itself. */
    public record VersionView(int version, Instant at, String who, String why) {}

    /**
     * Everything about who is called.
     *
     * @param now who is on duty, one line for each rota
     * @param next who comes next, one line for each rota
     * @param dead messages that were given up
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record OnCallView(
            Instant at,
            int version,
            OnCallPlan plan,
            List<Duty> now,
            List<Duty> next,
            List<ChannelState> channels,
            List<MessageView> messages,
            List<MessageView> dead,
            List<VersionView> versions,
            List<Fault> faults) {}

    @GET
    @Operation(summary = "The plan, who is on duty now and next, channels, newest messages and dead letters")
    public OnCallView onCall() throws SQLException {
        Instant at = clock.instant();
        OnCallPlan plan = alarms.plans().current();
        OnCallPlan shown = who.role().includes(Role.OPERATOR) ? plan : withoutAddresses(plan);
        List<Duty> now = new ArrayList<>();
        List<Duty> next = new ArrayList<>();
        plan.rotas()
                .forEach(rota -> Duty.at(plan, rota, at).ifPresent(duty -> {
                    now.add(duty);
                    Duty.at(plan, rota, duty.until()).ifPresent(next::add);
                }));
        return new OnCallView(
                at,
                alarms.plans().version(),
                shown,
                now,
                next,
                alarms.dispatcher().states(),
                alarms.outbox().newest(MOST_MESSAGES).stream()
                        .map(MessageView::of)
                        .toList(),
                alarms.outbox().dead(MOST_MESSAGES).stream()
                        .map(MessageView::of)
                        .toList(),
                alarms.planStore().newest(MOST_VERSIONS).stream()
                        .map(each -> new VersionView(each.version(), each.at(), each.who(), each.why()))
                        .toList(),
                alarms.faults());
    }

    /** How a person is reached is nobody's business who may only look. */
    private static OnCallPlan withoutAddresses(OnCallPlan plan) {
        List<Person> people = plan.people().stream()
                .map(person -> new Person(
                        person.id(),
                        person.name(),
                        person.zone(),
                        person.contacts().stream()
                                .map(contact -> new Contact(contact.channel(), "", contact.from()))
                                .toList(),
                        person.quiet()))
                .toList();
        return new OnCallPlan(plan.operators(), people, plan.rotas(), plan.covers(), plan.chains());
    }

    /** @param basedOn the version that the plan was made from; 0 for the first */
    public record NewPlan(int basedOn, String why, OnCallPlan plan) {}

    public record Version(int version) {}

    @PUT
    @Path("plan")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(
            summary =
                    "A new version of the plan as a whole; refused with every fault, or if somebody else saved meanwhile")
    public Version save(NewPlan asked) throws SQLException {
        Require.present("plan", asked == null ? null : asked.plan());
        return saved(alarms.plans()
                .save(asked.plan(), asked.basedOn(), who.name(), AlarmsResource.words(asked.why()), clock.instant()));
    }

    private static Version saved(Plans.Saved saved) {
        if (saved instanceof Plans.Saved.Faulty faulty) {
            throw Problem.badRequest(String.join("; ", faulty.faults()));
        }
        if (saved instanceof Plans.Saved.Overtaken overtaken) {
            throw Problem.conflict(
                    "somebody saved version " + overtaken.version() + " meanwhile; look at it and try again");
        }
        return new Version(((Plans.Saved.Done) saved).version());
    }

    /** @param person takes the rota's duty from {@code from} (now, if absent) until {@code until} */
    public record CoverRequest(String rota, String person, String from, String until, String why) {}

    @POST
    @Path("covers")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "Somebody takes a rota's duty for a while: cover, swap, or hand-over at once")
    public Version cover(CoverRequest asked) throws SQLException {
        Require.present("body", asked);
        Require.present("until", asked.until());
        Instant now = clock.instant();
        Instant from = asked.from() == null ? now : Span.instant("from", asked.from());
        Instant until = Span.instant("until", asked.until());
        if (Duration.between(from, until).compareTo(LONGEST_COVER) > 0) {
            throw Problem.badRequest("a cover of more than " + LONGEST_COVER.toDays() + " days belongs into the rota");
        }
        OnCallPlan plan = alarms.plans().current();
        List<Cover> covers = new ArrayList<>(plan.covers());
        covers.removeIf(cover -> cover.until().isBefore(now.minus(LONGEST_COVER)));
        if (covers.size() >= MOST_COVERS) {
            throw Problem.badRequest("there are " + MOST_COVERS + " covers already");
        }
        String why = AlarmsResource.words(asked.why());
        covers.add(new Cover(asked.rota(), asked.person(), from, until, who.name(), why));
        OnCallPlan changed = new OnCallPlan(plan.operators(), plan.people(), plan.rotas(), covers, plan.chains());
        return saved(alarms.plans()
                .save(
                        changed,
                        alarms.plans().version(),
                        who.name(),
                        asked.person() + " takes " + asked.rota() + (why.isEmpty() ? "" : ": " + why),
                        now));
    }

    @POST
    @Path("trial/{person}")
    @Operation(summary = "Sends a person a trial message over each of their contacts")
    public List<String> trial(@PathParam("person") String id) throws SQLException {
        Person person = alarms.plans()
                .current()
                .person(id)
                .orElseThrow(() -> Problem.notFound("there is no person '" + id + "'"));
        return alarms.onCall().trial(person, clock.instant());
    }

    @POST
    @Path("messages/{id}/retry")
    @Operation(summary = "Tries a message again that was given up")
    public void retry(@PathParam("id") String id) throws SQLException {
        UUID message;
        try {
            message = UUID.fromString(id);
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest("'" + id + "' is no message id");
        }
        if (!alarms.outbox().revive(message, clock.instant())) {
            throw Problem.notFound("there is no message " + id + " that was given up");
        }
        alarms.dispatcher().wake();
    }
}
