package io.loopwarden.store;

import io.loopwarden.statistics.Computed.Reason;
import java.util.Optional;

/** Numbers that stand for reasons in the store; never reused. */
final class ReasonCode {

    private ReasonCode() {}

    static short of(Reason reason) {
        return switch (reason) {
            case INPUT_MISSING -> 1;
            case INPUT_STALE -> 2;
            case INPUT_BAD -> 3;
            case INPUT_IMPLAUSIBLE -> 4;
            case NOT_STEADY -> 5;
            case NOT_OBSERVABLE -> 6;
            case NOT_RUNNING -> 7;
            case OUTSIDE_VALID_RANGE -> 8;
            case NAMEPLATE_INCOMPLETE -> 9;
            case BASELINE_MISSING -> 10;
        };
    }

    /** The reason of that number; empty for one of a later program. */
    static Optional<Reason> reason(int code) {
        for (Reason reason : Reason.values()) {
            if (of(reason) == code) {
                return Optional.of(reason);
            }
        }
        return Optional.empty();
    }
}
