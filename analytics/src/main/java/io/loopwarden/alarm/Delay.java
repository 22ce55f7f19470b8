package io.loopwarden.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;

/**
 * How far a condition has come towards a change. Only time between two judgements that both speak for the change counts: a gap neither
 * raises nor clears, and does not start the delay anew.
 *
 * @param there whether the condition counts as there
 * @param held how long the change has been spoken for
 * @param spokeAt when it was last spoken for
 */
public record Delay(boolean there, Duration held, Optional<Instant> spokeAt) {

    /**
     * How long the condition must be there, and gone, before it counts.
     *
     * @param on before it counts as there
     * @param off before it counts as gone
     */
    public record Times(Duration on, Duration off) {
        public Times {
            Objects.requireNonNull(on, "on");
            Objects.requireNonNull(off, "off");
            if (on.isNegative() || off.isNegative()) {
                throw new IllegalArgumentException("a delay of " + on + " or " + off + " is less than nothing");
            }
        }
    }

    public Delay {
        Objects.requireNonNull(held, "held");
        Objects.requireNonNull(spokeAt, "spokeAt");
    }

    public static Delay settled(boolean there) {
        return new Delay(there, Duration.ZERO, Optional.empty());
    }

    public Delay next(Verdict.Kind verdict, Instant at, Times times) {
        if (verdict == Verdict.Kind.UNKNOWN) {
            return new Delay(there, held, Optional.empty());
        }
        boolean speaksForChange = there ? verdict == Verdict.Kind.GOOD : verdict == Verdict.Kind.BEYOND;
        if (!speaksForChange) {
            return settled(there);
        }
        Duration more = spokeAt.map(last -> Duration.between(last, at)).orElse(Duration.ZERO);
        Duration now = held.plus(more.isNegative() ? Duration.ZERO : more);
        Duration needed = there ? times.off() : times.on();
        return now.compareTo(needed) >= 0 ? settled(!there) : new Delay(there, now, Optional.of(at));
    }
}
