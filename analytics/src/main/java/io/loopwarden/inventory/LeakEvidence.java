package io.loopwarden.inventory;

import java.util.Objects;

/**
 * What one source says of a leak.
 *
 * @param source level, flow, pressure, wet switches, conductivity, maintenance log
 * @param logOdds natural logarithm of the factor on the odds of a leak; 0 where it says nothing
 * @param sentence for people
 */
public record LeakEvidence(String source, double logOdds, String sentence) {

    public LeakEvidence {
        Objects.requireNonNull(source, "source");
        Objects.requireNonNull(sentence, "sentence");
        if (!Double.isFinite(logOdds)) {
            throw new IllegalArgumentException(source + " has log-odds " + logOdds);
        }
    }
}
