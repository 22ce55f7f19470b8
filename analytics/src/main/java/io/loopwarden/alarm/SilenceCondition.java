package io.loopwarden.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;

/** A unit from which no new sample came for so long. One that never sent anything is silent too. */
public record SilenceCondition(Duration longerThan) implements Condition {

    public SilenceCondition {
        Objects.requireNonNull(longerThan, "longerThan");
        if (longerThan.isNegative() || longerThan.isZero()) {
            throw new IllegalArgumentException("silence of " + longerThan + " is not a time");
        }
    }

    @Override
    public boolean concerns(Facts facts) {
        return facts instanceof Facts.OfUnit;
    }

    @Override
    public Verdict judge(Facts facts) {
        Optional<Instant> last = ((Facts.OfUnit) facts).lastSampleAt();
        if (last.isEmpty()) {
            return new Verdict(Verdict.Kind.BEYOND, "no sample has come yet");
        }
        Duration silent = Duration.between(last.get(), facts.at());
        return silent.compareTo(longerThan) > 0
                ? new Verdict(Verdict.Kind.BEYOND, "the newest sample is from " + last.get())
                : new Verdict(Verdict.Kind.GOOD, "samples come");
    }

    @Override
    public String words() {
        return "no new sample for " + longerThan.toSeconds() + " s";
    }
}
