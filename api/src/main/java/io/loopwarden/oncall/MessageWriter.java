package io.loopwarden.oncall;

import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Incident;
import io.loopwarden.oncall.OnCallPlan.Person;
import io.loopwarden.store.alarm.ShiftNote;
import java.net.URI;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/** Writes what a person is told: why they are called, what it leads to, how long there is, and what to do first. */
public final class MessageWriter {

    private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm xxx", Locale.ROOT);
    private static final int MOST_NAMED = 30;

    private final URI address;
    private final AckLinks links;

    /** @param address where people reach the service */
    public MessageWriter(URI address, AckLinks links) {
        this.address = address;
        this.links = links;
    }

    /** The same for the same incident, person and kind: whoever gets it twice can tell. */
    static UUID id(String incident, String person, String kind) {
        return UUID.nameUUIDFromBytes((incident + "\n" + person + "\n" + kind).getBytes(StandardCharsets.UTF_8));
    }

    Message alarm(
            Incident incident,
            Optional<Definition> lead,
            Optional<Alarm> alarm,
            Person person,
            String kind,
            Instant at) {
        String title = lead.map(Definition::title).orElse(incident.lead().definition());
        Duration within = lead.map(Definition::respondWithin).orElse(Duration.ZERO);
        Instant respondBy = incident.asksSince().plus(within);
        String priority = incident.priority().name().toLowerCase(Locale.ROOT);
        String place = place(incident.place());
        List<String> sources = List.copyOf(incident.sources());
        String link = address.resolve(
                        "/alarm.html?id=" + encoded(incident.lead().toString()))
                .toString();
        String key = links.key(incident.lead(), incident.id(), person.id(), at);
        // In the fragment: it is not sent to servers, and so in no log of theirs.
        String acknowledge = address.resolve("/acknowledge.html#" + key).toString();
        String subject = priority.toUpperCase(Locale.ROOT) + " " + place + ": " + title;
        String evidence = alarm.map(Alarm::evidence).orElse("");
        List<String> lines = new ArrayList<>();
        lines.add(place + ": " + title + ". Priority " + priority + ".");
        lines.add("Since " + TIME.format(incident.openedAt().atZone(person.zone())) + ".");
        if (sources.size() > 1) {
            lines.add(named(sources));
        }
        lines.add("");
        lines.add("Seen: " + evidence);
        lead.ifPresent(definition -> {
            lines.add("Probable cause: " + definition.cause());
            lines.add("If nobody acts: " + definition.consequence());
            lines.add("Time to respond: until " + TIME.format(respondBy.atZone(person.zone())) + ".");
            lines.add("First: " + definition.firstAction());
        });
        lines.add("");
        lines.add("Alarm: " + link);
        lines.add("Acknowledge this alarm: " + acknowledge);
        UUID id = id(incident.id(), person.id(), kind);
        lines.add("Message " + id);
        return new Message(
                id,
                Message.ALARM,
                at,
                subject,
                priority,
                incident.id(),
                incident.place(),
                sources,
                title,
                evidence,
                lead.map(Definition::cause).orElse(""),
                lead.map(Definition::consequence).orElse(""),
                lead.map(Definition::firstAction).orElse(""),
                respondBy,
                link,
                acknowledge,
                String.join("\n", lines));
    }

    /** For the one who comes on duty: what is open, and what the shift before wrote down. */
    Message handOver(Duty duty, Person person, List<Incident> open, List<ShiftNote> notes, Instant at) {
        String incident = handOverKey(duty);
        List<String> lines = new ArrayList<>();
        lines.add("You are on call for " + duty.rota() + " until "
                + TIME.format(duty.until().atZone(person.zone())) + ".");
        lines.add("");
        lines.add(open.isEmpty() ? "No incident is open." : "Open incidents:");
        open.stream()
                .limit(MOST_NAMED)
                .forEach(each -> lines.add("- " + each.priority().name().toLowerCase(Locale.ROOT) + ", "
                        + place(each.place()) + ", " + each.group() + ", since "
                        + TIME.format(each.openedAt().atZone(person.zone()))
                        + each.takenBy().map(who -> ", taken by " + who).orElse(", taken by nobody")));
        lines.add("");
        lines.add(notes.isEmpty() ? "The shift log is empty." : "From the shift log:");
        notes.stream()
                .limit(MOST_NAMED)
                .forEach(note -> lines.add(
                        "- " + TIME.format(note.at().atZone(person.zone())) + ", " + note.who() + ": " + note.note()));
        lines.add("");
        lines.add("Alarms: " + address.resolve("/alarms.html"));
        UUID id = id(incident, person.id(), "hand-over");
        lines.add("Message " + id);
        return new Message(
                id,
                Message.HAND_OVER,
                at,
                "On call for " + duty.rota() + ": " + open.size() + " open incidents",
                "low",
                incident,
                duty.rota(),
                List.of(),
                "Hand-over",
                "",
                "",
                "",
                "Read the shift log",
                duty.until(),
                address.resolve("/alarms.html").toString(),
                "",
                String.join("\n", lines));
    }

    Message trial(Person person, Instant at) {
        UUID id = UUID.randomUUID();
        return new Message(
                id,
                Message.TRIAL,
                at,
                "Trial: this reaches " + person.name(),
                "low",
                "trial:" + id,
                "",
                List.of(),
                "Trial",
                "",
                "",
                "",
                "Nothing to do",
                at,
                address.resolve("/on-call.html").toString(),
                "",
                "A trial of this way to reach you. There is nothing to do.\nMessage " + id);
    }

    static String handOverKey(Duty duty) {
        return "hand-over:" + duty.rota() + ":" + duty.from();
    }

    private static String place(String place) {
        return place.startsWith("hall:") ? "Hall " + place.substring(5) : place;
    }

    private static String named(List<String> sources) {
        List<String> first = sources.stream().limit(MOST_NAMED).toList();
        String more = sources.size() > MOST_NAMED ? " and " + (sources.size() - MOST_NAMED) + " more" : "";
        return sources.size() + " units: " + String.join(", ", first) + more;
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }
}
