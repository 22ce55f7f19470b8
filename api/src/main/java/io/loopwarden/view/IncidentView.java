package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Incident;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One incident as it leaves.
 *
 * @param title the title of the alarm that speaks for it
 * @param sources the units, or others, that have an alarm in it
 */
@JsonInclude(JsonInclude.Include.NON_EMPTY)
public record IncidentView(
        String id,
        String place,
        String group,
        String title,
        String priority,
        Instant openedAt,
        Instant lastRaisedAt,
        Instant quietSince,
        Instant closedAt,
        String takenBy,
        Instant takenAt,
        String lead,
        List<String> sources,
        List<String> alarms,
        String mergedInto) {

    public static IncidentView of(Incident incident, Optional<Definition> lead) {
        return new IncidentView(
                incident.id(),
                incident.place(),
                incident.group(),
                lead.map(Definition::title).orElse(incident.lead().definition()),
                hyphenated(incident.priority()),
                incident.openedAt(),
                incident.lastRaisedAt(),
                incident.quietSince().orElse(null),
                incident.closedAt().orElse(null),
                incident.takenBy().orElse(null),
                incident.takenAt().orElse(null),
                incident.lead().toString(),
                List.copyOf(incident.sources()),
                incident.alarms().stream().map(AlarmId::toString).toList(),
                incident.mergedInto().orElse(null));
    }
}
