package io.loopwarden.watch;

import io.loopwarden.indicator.FunctionSignal;
import java.time.Instant;

/** The last signal of a function that rested on figures, not on their absence. */
record LastJudged(FunctionSignal signal, Instant at) {

    FunctionSignal repeated(FunctionSignal now) {
        return new FunctionSignal(
                signal.function(), signal.signal(), false, signal.reason() + " Judged at " + at + "; " + now.reason());
    }
}
