package io.loopwarden.indicator;

import java.util.Objects;

/**
 * State of one function of a unit in the terms of NE 107.
 *
 * @param judged false where the function cannot be judged now; the signal is then the last one known, or good
 * @param reason one sentence for people
 */
public record FunctionSignal(UnitFunction function, Ne107 signal, boolean judged, String reason) {

    public FunctionSignal {
        Objects.requireNonNull(function, "function");
        Objects.requireNonNull(signal, "signal");
        Objects.requireNonNull(reason, "reason");
    }
}
