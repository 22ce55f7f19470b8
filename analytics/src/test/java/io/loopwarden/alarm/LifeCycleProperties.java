package io.loopwarden.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.Size;

/** What holds of an alarm whatever happens to it. */
class LifeCycleProperties {

    /** The history alone tells the state: nothing that changed it is missing, and each line begins where the last ended. */
    @Property(tries = 500)
    void noSequenceLosesATransition(@ForAll @Size(max = 40) List<AlarmEvent> events, @ForAll boolean latching) {
        Alarm alarm = Alarm.normal(Alarms.ID, Alarms.NOON);
        List<Transition> history = new ArrayList<>();
        Instant at = Alarms.NOON;
        for (AlarmEvent event : events) {
            at = at.plusSeconds(1);
            Alarm before = alarm;
            Next next = alarm.next(Alarms.change(event, at), latching);
            if (next instanceof Next.Changed changed) {
                alarm = changed.alarm();
                history.add(changed.transition());
            }
            assertThat(next instanceof Next.Changed).isEqualTo(!alarm.equals(before));
        }
        AlarmState told = AlarmState.NORMAL;
        for (Transition line : history) {
            assertThat(line.from()).isEqualTo(told);
            told = line.to();
        }
        assertThat(told).isEqualTo(alarm.state());
    }

    @Property(tries = 500)
    void theConditionIsKnownInEveryState(@ForAll @Size(max = 40) List<AlarmEvent> events, @ForAll boolean latching) {
        boolean there = false;
        Alarm alarm = Alarm.normal(Alarms.ID, Alarms.NOON);
        for (AlarmEvent event : events) {
            alarm = after(alarm, event, latching);
            there = event == AlarmEvent.OCCUR || there && event != AlarmEvent.CLEAR;
            assertThat(alarm.condition()).isEqualTo(there);
            if (!alarm.state().inhibited()) {
                assertThat(alarm.state() == AlarmState.UNACKNOWLEDGED || alarm.state() == AlarmState.ACKNOWLEDGED)
                        .isEqualTo(there);
            }
        }
    }

    /** From wherever a sequence leads, some further events lead back to normal. */
    @Property(tries = 200)
    void everySequenceHasAWayBack(@ForAll @Size(max = 40) List<AlarmEvent> events, @ForAll boolean latching) {
        Alarm alarm = Alarm.normal(Alarms.ID, Alarms.NOON);
        for (AlarmEvent event : events) {
            alarm = after(alarm, event, latching);
        }
        Deque<Alarm> reached = new ArrayDeque<>(List.of(alarm));
        Set<String> seen = new HashSet<>();
        while (!reached.isEmpty()) {
            Alarm next = reached.removeFirst();
            if (next.state() == AlarmState.NORMAL) {
                return;
            }
            for (AlarmEvent event : AlarmEvent.values()) {
                Alarm further = after(next, event, latching);
                if (seen.add(key(further))) {
                    reached.add(further);
                }
            }
        }
        throw new AssertionError("no way back to normal from " + alarm);
    }

    private static Alarm after(Alarm alarm, AlarmEvent event, boolean latching) {
        return alarm.next(Alarms.change(event, Alarms.NOON), latching) instanceof Next.Changed changed
                ? changed.alarm()
                : alarm;
    }

    private static String key(Alarm alarm) {
        return alarm.state() + " " + alarm.condition() + alarm.shelvedUntil().isPresent()
                + alarm.suppressedBy().isPresent() + alarm.outOfService();
    }
}
