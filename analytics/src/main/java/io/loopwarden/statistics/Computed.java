package io.loopwarden.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.Function;

/** A computed value, or the named reason why there is none. */
public sealed interface Computed<T> {

    record Value<T>(T value) implements Computed<T> {
        public Value {
            Objects.requireNonNull(value, "value");
        }
    }

    /** @param detail one sentence for a person: which input, its value, the limit it broke */
    record Unavailable<T>(Reason reason, String detail) implements Computed<T> {
        public Unavailable {
            Objects.requireNonNull(reason, "reason");
            Objects.requireNonNull(detail, "detail");
        }
    }

    enum Reason {
        /** A point that is needed has never been received, or the unit does not have it. */
        INPUT_MISSING,
        /** A point that is needed stopped coming. */
        INPUT_STALE,
        /** The source itself says that a value cannot be believed. */
        INPUT_BAD,
        /** A value contradicts physics or its neighbours, for example a temperature cross or a negative flow. */
        INPUT_IMPLAUSIBLE,
        /** Load or actuators were moving; the relation holds for steady states only. */
        NOT_STEADY,
        /** The state is too close to zero for the figure to mean anything, for example duty too low for UA. */
        NOT_OBSERVABLE,
        /** No flow, or no pump is running. */
        NOT_RUNNING,
        /** A property or relation would be used outside the range its source states. */
        OUTSIDE_VALID_RANGE,
        /** The nameplate lacks a value that the figure needs. */
        NAMEPLATE_INCOMPLETE,
        /** Nothing to compare with has been learnt yet. */
        BASELINE_MISSING
    }

    static <T> Computed<T> of(T value) {
        return new Value<>(value);
    }

    static <T> Computed<T> unavailable(Reason reason, String detail) {
        return new Unavailable<>(reason, detail);
    }

    /** All values in order, or the first gap. */
    static <T> Computed<List<T>> all(List<Computed<T>> parts) {
        List<T> values = new ArrayList<>(parts.size());
        for (Computed<T> part : parts) {
            if (part instanceof Unavailable<T> gap) {
                return new Unavailable<>(gap.reason(), gap.detail());
            }
            values.add(((Value<T>) part).value());
        }
        return new Value<>(List.copyOf(values));
    }

    /** The only way out: the caller says what to do in both cases. */
    default <R> R fold(Function<T, R> onValue, Function<Unavailable<T>, R> onUnavailable) {
        return this instanceof Value<T> v ? onValue.apply(v.value()) : onUnavailable.apply((Unavailable<T>) this);
    }

    default <R> Computed<R> map(Function<T, R> f) {
        return flatMap(v -> new Value<>(f.apply(v)));
    }

    default <R> Computed<R> flatMap(Function<T, Computed<R>> f) {
        return fold(f, gap -> new Unavailable<>(gap.reason(), gap.detail()));
    }

    default boolean isAvailable() {
        return this instanceof Value<T>;
    }
}
