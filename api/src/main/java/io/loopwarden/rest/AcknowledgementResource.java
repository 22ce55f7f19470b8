package io.loopwarden.rest;

import io.loopwarden.alarm.AlarmEvent;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Change;
import io.loopwarden.alarmdesk.AlarmDesk.Answer;
import io.loopwarden.alarmdesk.Snapshot;
import io.loopwarden.oncall.AckLinks.Grant;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.security.AuditTrail;
import io.loopwarden.service.Alarms;
import io.loopwarden.view.AlarmView;
import jakarta.ws.rs.Consumes;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.core.MediaType;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.util.Optional;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/**
 * The link in a message: shows one alarm and acknowledges it, without signing in. Only a person's press of the button acknowledges:
 * programs that look at links in mail do not.
 */
@Path("/api/v1/acknowledgement")
@Tag(name = "alarms")
public class AcknowledgementResource {

    private final Alarms alarms;
    private final AuditTrail audit;
    private final Clock clock;

    AcknowledgementResource(Alarms alarms, AuditTrail audit, Clock clock) {
        this.alarms = alarms;
        this.audit = audit;
        this.clock = clock;
    }

    /** @param key from the link */
    public record Key(String key) {}

    /** @param over whether the incident that the message was about is over, or the alarm acknowledged: nothing is left to do */
    public record Acknowledgement(
            Instant at, AlarmView alarm, String person, Instant validUntil, boolean over, String said) {}

    @POST
    @Path("view")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "The alarm that a link is for; changes nothing")
    public Acknowledgement view(Key key) {
        Grant grant = grant(key);
        return answer(grant, "");
    }

    @POST
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(summary = "Acknowledges the one alarm that a link is for, in the name of the person it was sent to")
    public Acknowledgement acknowledge(Key key) throws SQLException {
        Grant grant = grant(key);
        String name = name(grant);
        if (over(grant)) {
            return answer(grant, "There was nothing left to acknowledge.");
        }
        audit.append(name, "acknowledge by link", grant.alarm().toString(), "incident " + grant.incident());
        Answer answer = alarms.desk()
                .command(
                        grant.alarm(),
                        at -> Change.byPerson(AlarmEvent.ACKNOWLEDGE, at, name, "by the link in the message"))
                .join();
        if (answer instanceof Answer.NotKept late) {
            throw Problem.unavailable(late.reason());
        }
        return answer(grant, answer instanceof Answer.Refused refused ? refused.reason() : "Acknowledged.");
    }

    private Grant grant(Key key) {
        if (key == null || key.key() == null) {
            throw Problem.badRequest("'key' is missing");
        }
        return alarms.links()
                .read(key.key(), clock.instant())
                .orElseThrow(
                        () -> Problem.forbidden("this link is not ours, was changed, or is over; sign in instead"));
    }

    /** An old link must not acknowledge a later occurrence. */
    private boolean over(Grant grant) {
        Snapshot now = alarms.desk().snapshot();
        boolean sameIncident = grant.incident().equals(now.incidentOf().get(grant.alarm()))
                || now.open().stream().anyMatch(each -> each.id().equals(grant.incident()));
        return !sameIncident
                || Optional.ofNullable(now.alarms().get(grant.alarm()))
                        .filter(alarm -> alarm.state().awaitsAcknowledgement())
                        .isEmpty();
    }

    private Acknowledgement answer(Grant grant, String said) {
        Snapshot now = alarms.desk().snapshot();
        AlarmId id = grant.alarm();
        AlarmView view = Optional.ofNullable(now.alarms().get(id))
                .map(alarm -> AlarmView.of(
                        alarm, alarms.definition(id.definition()), alarms.hallOf(id.source()), grant.incident()))
                .orElse(null);
        return new Acknowledgement(now.at(), view, name(grant), grant.until(), over(grant), said);
    }

    private String name(Grant grant) {
        return alarms.plans().current().person(grant.person()).map(Person::name).orElse(grant.person());
    }
}
