package io.loopwarden.alarmdesk;

import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Incident;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The alarms at one instant.
 *
 * @param version grows with every change
 * @param alarms every alarm that stands or is kept from people
 * @param open incidents that are not over
 * @param incidentOf incident of each alarm that is in one
 * @param floodSince since when there is an alarm flood
 * @param kept false while changes wait for the store
 */
public record Snapshot(
        Instant at,
        long version,
        Map<AlarmId, Alarm> alarms,
        List<Incident> open,
        Map<AlarmId, String> incidentOf,
        Optional<Instant> floodSince,
        boolean kept) {

    static final Snapshot EMPTY = new Snapshot(Instant.EPOCH, 0, Map.of(), List.of(), Map.of(), Optional.empty(), true);
}
