package io.loopwarden.alarm;

import static io.loopwarden.alarm.AlarmEvent.ACKNOWLEDGE;
import static io.loopwarden.alarm.AlarmEvent.CLEAR;
import static io.loopwarden.alarm.AlarmEvent.OCCUR;
import static io.loopwarden.alarm.AlarmEvent.REALARM;
import static io.loopwarden.alarm.AlarmEvent.REMOVE;
import static io.loopwarden.alarm.AlarmEvent.RESET;
import static io.loopwarden.alarm.AlarmEvent.RETURN;
import static io.loopwarden.alarm.AlarmEvent.SHELVE;
import static io.loopwarden.alarm.AlarmEvent.SUPPRESS;
import static io.loopwarden.alarm.AlarmEvent.UNSHELVE;
import static io.loopwarden.alarm.AlarmEvent.UNSUPPRESS;
import static io.loopwarden.alarm.AlarmState.ACKNOWLEDGED;
import static io.loopwarden.alarm.AlarmState.LATCHED_ACKNOWLEDGED;
import static io.loopwarden.alarm.AlarmState.LATCHED_UNACKNOWLEDGED;
import static io.loopwarden.alarm.AlarmState.NORMAL;
import static io.loopwarden.alarm.AlarmState.OUT_OF_SERVICE;
import static io.loopwarden.alarm.AlarmState.RETURNED_UNACKNOWLEDGED;
import static io.loopwarden.alarm.AlarmState.SHELVED;
import static io.loopwarden.alarm.AlarmState.SUPPRESSED_BY_DESIGN;
import static io.loopwarden.alarm.AlarmState.UNACKNOWLEDGED;
import static io.loopwarden.alarm.LifeCycle.Step.back;
import static io.loopwarden.alarm.LifeCycle.Step.note;
import static io.loopwarden.alarm.LifeCycle.Step.refuse;
import static io.loopwarden.alarm.LifeCycle.Step.stay;
import static io.loopwarden.alarm.LifeCycle.Step.to;

import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;

/**
 * The transition table of an alarm: what each event does in each state, after the state diagram of IEC 62682:2022 (the same as in
 * ISA-18.2-2016; states as in OPC 10000-9, 4.8). {@code ALARMS.md} prints it, and a test holds the two together.
 */
public final class LifeCycle {

    /**
     * What one event does in one state.
     *
     * @param kind whether and how it moves
     * @param target where to, for {@link Kind#MOVE}
     * @param latchedTarget where to if the alarm latches
     * @param words why it is refused, for {@link Kind#REFUSE}
     */
    public record Step(Kind kind, AlarmState target, AlarmState latchedTarget, String words) {

        public enum Kind {
            /** To another state. */
            MOVE,
            /** To where the next inhibition that still holds, or the condition, sends it. */
            BACK,
            /** The state stays; that it happened is kept, since it decides the way back. */
            NOTE,
            /** Nothing to do. */
            STAY,
            /** A person asked for what makes no sense here. */
            REFUSE
        }

        static Step to(AlarmState target) {
            return new Step(Kind.MOVE, target, target, "");
        }

        static Step to(AlarmState target, AlarmState ifLatching) {
            return new Step(Kind.MOVE, target, ifLatching, "");
        }

        static Step back() {
            return new Step(Kind.BACK, null, null, "");
        }

        static Step note() {
            return new Step(Kind.NOTE, null, null, "");
        }

        static Step stay() {
            return new Step(Kind.STAY, null, null, "");
        }

        static Step refuse(String words) {
            return new Step(Kind.REFUSE, null, null, words);
        }

        /** The table's cell in the form of {@code ALARMS.md}. */
        public String cell() {
            return switch (kind) {
                case MOVE ->
                    target == latchedTarget ? "" + target.letter() : target.letter() + "/" + latchedTarget.letter();
                case BACK -> "back";
                case NOTE -> "noted";
                case STAY -> "–";
                case REFUSE -> "×";
            };
        }
    }

    private static final String NOT_SHELVED = "the alarm is not shelved";
    private static final String IN_SERVICE = "the alarm is in service";
    private static final String NOT_LATCHED = "the alarm is not latched";
    private static final String KEPT_AWAY = "the alarm is not before the operator now; bring it back first";

    private static final Map<AlarmState, Map<AlarmEvent, Step>> TABLE = new EnumMap<>(AlarmState.class);

    static {
        row(NORMAL, to(UNACKNOWLEDGED), stay(), refuse("there is nothing to acknowledge"), refuse(NOT_LATCHED), stay());
        row(
                UNACKNOWLEDGED,
                stay(),
                to(RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED),
                to(ACKNOWLEDGED),
                refuse("the condition is still there; acknowledge it"),
                stay());
        row(
                ACKNOWLEDGED,
                stay(),
                to(NORMAL, LATCHED_ACKNOWLEDGED),
                refuse("it is acknowledged already"),
                refuse("the condition is still there"),
                to(UNACKNOWLEDGED));
        row(RETURNED_UNACKNOWLEDGED, to(UNACKNOWLEDGED), stay(), to(NORMAL), refuse(NOT_LATCHED), stay());
        row(
                LATCHED_UNACKNOWLEDGED,
                to(UNACKNOWLEDGED),
                stay(),
                to(LATCHED_ACKNOWLEDGED),
                refuse("acknowledge it before it is reset"),
                stay());
        row(LATCHED_ACKNOWLEDGED, to(UNACKNOWLEDGED), stay(), refuse("it is acknowledged already"), to(NORMAL), stay());
        for (AlarmState state : new AlarmState[] {SHELVED, SUPPRESSED_BY_DESIGN, OUT_OF_SERVICE}) {
            row(state, note(), note(), refuse(KEPT_AWAY), refuse(KEPT_AWAY), stay());
        }
        for (AlarmState state : AlarmState.values()) {
            boolean inhibited = state.inhibited();
            put(state, SHELVE, to(SHELVED));
            put(state, UNSHELVE, refuse(NOT_SHELVED));
            put(state, SUPPRESS, inhibited ? note() : to(SUPPRESSED_BY_DESIGN));
            put(state, UNSUPPRESS, inhibited ? note() : stay());
            put(state, REMOVE, to(OUT_OF_SERVICE));
            put(state, RETURN, refuse(IN_SERVICE));
        }
        put(SHELVED, UNSHELVE, back());
        put(SUPPRESSED_BY_DESIGN, SUPPRESS, stay());
        put(SUPPRESSED_BY_DESIGN, UNSUPPRESS, back());
        put(OUT_OF_SERVICE, SHELVE, refuse("the alarm is out of service; return it first"));
        put(OUT_OF_SERVICE, UNSHELVE, note());
        put(OUT_OF_SERVICE, REMOVE, refuse("the alarm is out of service already"));
        put(OUT_OF_SERVICE, RETURN, back());
    }

    private LifeCycle() {}

    private static void row(AlarmState state, Step occur, Step clear, Step acknowledge, Step reset, Step realarm) {
        TABLE.put(state, new EnumMap<>(AlarmEvent.class));
        put(state, OCCUR, occur);
        put(state, CLEAR, clear);
        put(state, ACKNOWLEDGE, acknowledge);
        put(state, RESET, reset);
        put(state, REALARM, realarm);
    }

    private static void put(AlarmState state, AlarmEvent event, Step step) {
        TABLE.get(state).put(event, step);
    }

    public static Step step(AlarmState state, AlarmEvent event) {
        return Objects.requireNonNull(TABLE.get(state).get(event));
    }
}
