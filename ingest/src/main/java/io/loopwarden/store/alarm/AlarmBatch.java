package io.loopwarden.store.alarm;

import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.Incident;
import io.loopwarden.alarm.Transition;
import java.util.List;

/** What is kept in one transaction: transitions, and alarms and incidents as they are after them. */
public record AlarmBatch(List<Transition> transitions, List<Alarm> alarms, List<Incident> incidents) {

    public AlarmBatch {
        transitions = List.copyOf(transitions);
        alarms = List.copyOf(alarms);
        incidents = List.copyOf(incidents);
    }

    public boolean isEmpty() {
        return transitions.isEmpty() && alarms.isEmpty() && incidents.isEmpty();
    }
}
