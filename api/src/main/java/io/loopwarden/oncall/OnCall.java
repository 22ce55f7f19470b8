package io.loopwarden.oncall;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarmdesk.Snapshot;
import io.loopwarden.oncall.Decisions.Decision;
import io.loopwarden.oncall.Decisions.Hold;
import io.loopwarden.oncall.Decisions.Told;
import io.loopwarden.oncall.OnCallPlan.Contact;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.oncall.OnCallPlan.Rota;
import io.loopwarden.store.alarm.Outbox;
import io.loopwarden.store.alarm.OutboxMessage;
import io.loopwarden.store.alarm.ShiftLog;
import io.loopwarden.store.alarm.ShiftNote;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jboss.logging.Logger;

/** Decides whom to tell of what is open, and puts the messages into the outbox; runs on the alarms' thread, round by round. */
public final class OnCall {

    private static final Logger LOG = Logger.getLogger(OnCall.class);

    private static final Duration DUTIES_EVERY = Duration.ofSeconds(10);
    /** A change of duty that is older than this is told to nobody any more, for example after a long stop. */
    private static final Duration HAND_OVER_FRESH = Duration.ofHours(1);

    private static final Duration NOTES = Duration.ofHours(24);
    private static final int MOST_NOTES = 30;

    private final Plans plans;
    private final Map<String, Channel> channels;
    private final Outbox outbox;
    private final ShiftLog shiftLog;
    private final MessageWriter writer;
    private final Dispatcher dispatcher;
    private final ObjectMapper json;
    private final Function<String, Optional<Definition>> definitionOf;
    private final Map<Told, Instant> told = new HashMap<>();
    private final DirectDelivery direct;
    private Instant dutiesAt = Instant.EPOCH;
    private volatile List<Hold> holds = List.of();

    public OnCall(
            Plans plans,
            Map<String, Channel> channels,
            Outbox outbox,
            ShiftLog shiftLog,
            MessageWriter writer,
            Dispatcher dispatcher,
            ObjectMapper json,
            Function<String, Optional<Definition>> definitionOf) {
        this.plans = plans;
        this.channels = Map.copyOf(channels);
        this.outbox = outbox;
        this.shiftLog = shiftLog;
        this.writer = writer;
        this.dispatcher = dispatcher;
        this.json = json;
        this.definitionOf = definitionOf;
        this.direct = new DirectDelivery(channels, json);
    }

    /** What was decided before the start is not decided again. */
    public void restore(List<Incident> open) throws SQLException {
        outbox.ofIncidents(open.stream().map(Incident::id).toList()).forEach(this::remember);
    }

    private void remember(OutboxMessage message) {
        told.merge(
                new Told(message.incident(), message.person(), message.kind()),
                message.decidedAt(),
                (a, b) -> a.isBefore(b) ? a : b);
    }

    /** Who is left in peace for now, and why. */
    public List<Hold> holds() {
        return holds;
    }

    /** One round. */
    public void round(Snapshot snapshot) {
        Instant at = snapshot.at();
        OnCallPlan plan = plans.current();
        Decisions.Outcome outcome = Decisions.of(
                snapshot.open(), plan, definitionOf, told, snapshot.floodSince().isPresent(), at);
        List<Hold> waiting = new ArrayList<>(outcome.holds());
        List<OutboxMessage> messages = new ArrayList<>();
        for (Decision decision : outcome.decisions()) {
            Incident incident = decision.incident();
            Optional<Alarm> alarm = Optional.ofNullable(snapshot.alarms().get(incident.lead()));
            Optional<Definition> lead = definitionOf.apply(incident.lead().definition());
            Message message = writer.alarm(incident, lead, alarm, decision.person(), decision.kind(), at);
            List<OutboxMessage> envelopes = envelopes(
                    message,
                    incident.id(),
                    decision.person(),
                    decision.kind(),
                    incident.priority().name(),
                    at);
            if (envelopes.isEmpty()) {
                waiting.add(new Hold(
                        incident.id(), decision.person().id(), "has no contact for this priority", Optional.empty()));
            }
            messages.addAll(envelopes);
        }
        if (!dutiesAt.plus(DUTIES_EVERY).isAfter(at)) {
            dutiesAt = at;
            plan.rotas().forEach(rota -> handOver(plan, rota, snapshot, at, messages));
        }
        holds = List.copyOf(waiting);
        if (!messages.isEmpty()) {
            put(messages, at);
        }
        forgetWhatIsOver(snapshot);
    }

    private void put(List<OutboxMessage> messages, Instant at) {
        try {
            outbox.add(messages);
            messages.forEach(this::remember);
            dispatcher.wake();
            direct.storeIsBack();
        } catch (SQLException e) {
            LOG.debugf("messages wait for the store: %s", e.getMessage());
            direct.whileStoreIsAway(messages, at);
        }
    }

    private void handOver(OnCallPlan plan, Rota rota, Snapshot snapshot, Instant at, List<OutboxMessage> messages) {
        Optional<Duty> duty = Duty.at(plan, rota, at)
                .filter(now -> now.from().plus(HAND_OVER_FRESH).isAfter(at));
        Optional<Person> person = duty.flatMap(now -> plan.person(now.person()));
        if (person.isEmpty()) {
            return;
        }
        String key = MessageWriter.handOverKey(duty.get());
        if (told.containsKey(new Told(key, person.get().id(), "hand-over"))) {
            return;
        }
        try {
            List<ShiftNote> notes = shiftLog.between(at.minus(NOTES), at, MOST_NOTES);
            UUID note = MessageWriter.id(key, person.get().id(), "shift-note");
            shiftLog.add(new ShiftNote(
                    note,
                    at,
                    "Loopwarden",
                    "rota " + rota.name(),
                    person.get().name() + " is on call for " + rota.name() + " until "
                            + duty.get().until()));
            Message message = writer.handOver(duty.get(), person.get(), snapshot.open(), notes, at);
            messages.addAll(envelopes(message, key, person.get(), "hand-over", "LOW", at));
            told.put(new Told(key, person.get().id(), "hand-over"), at);
        } catch (SQLException e) {
            LOG.debugf("the hand-over waits for the store: %s", e.getMessage());
        }
    }

    private List<OutboxMessage> envelopes(
            Message message, String incident, Person person, String kind, String priority, Instant at) {
        List<OutboxMessage> envelopes = new ArrayList<>();
        Set<String> used = new HashSet<>();
        for (Contact contact : person.contacts()) {
            if (channels.containsKey(contact.channel()) && serves(contact, priority) && used.add(contact.channel())) {
                envelopes.add(OutboxMessage.decided(
                        message.id(),
                        contact.channel(),
                        incident,
                        person.id(),
                        kind,
                        priority,
                        contact.address(),
                        text(message),
                        at));
            }
        }
        return envelopes;
    }

    private static boolean serves(Contact contact, String priority) {
        List<String> ranks = List.of("low", "medium", "high");
        return contact.from() == null
                || ranks.indexOf(contact.from()) <= ranks.indexOf(priority.toLowerCase(java.util.Locale.ROOT));
    }

    /** A trial message over every contact of a person; answers over which channels. */
    public List<String> trial(Person person, Instant at) throws SQLException {
        Message message = writer.trial(person, at);
        List<OutboxMessage> envelopes = envelopes(message, message.incident(), person, "trial", "HIGH", at);
        outbox.add(envelopes);
        dispatcher.wake();
        return envelopes.stream().map(OutboxMessage::channel).toList();
    }

    private String text(Message message) {
        try {
            return json.writeValueAsString(message);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a message cannot be written as JSON", e);
        }
    }

    private void forgetWhatIsOver(Snapshot snapshot) {
        if (told.size() > 2000) {
            Set<String> open = snapshot.open().stream().map(Incident::id).collect(Collectors.toSet());
            told.keySet()
                    .removeIf(each ->
                            !open.contains(each.incident()) && !each.kind().equals("hand-over"));
        }
    }
}
