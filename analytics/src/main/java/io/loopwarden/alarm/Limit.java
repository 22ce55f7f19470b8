package io.loopwarden.alarm;

import io.loopwarden.fleet.Nameplate;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/**
 * A limit: a number, or a number on top of what the nameplate says, in the inner unit of what is judged.
 *
 * @param side on which side of the limit it is bad
 * @param over a name of {@link #NAMEPLATE}
 * @param deadband how far it must come back before the condition clears, 0 or more
 */
public record Limit(Side side, double value, Optional<String> over, double deadband) {

    public enum Side {
        ABOVE,
        BELOW
    }

    /** What a limit can lie above or below, in the inner unit. */
    public static final Map<String, ToDoubleFunction<Nameplate>> NAMEPLATE = Map.of(
            "design-fws-supply-temperature", Nameplate::designFwsSupplyTemperatureC,
            "rated-approach", Nameplate::ratedApproachK,
            "available-head", Nameplate::availableHeadPa,
            "filter-terminal-dp", Nameplate::filterTerminalDpPa);

    public Limit {
        Objects.requireNonNull(side, "side");
        Objects.requireNonNull(over, "over");
        if (!Double.isFinite(value) || !Double.isFinite(deadband) || deadband < 0) {
            throw new IllegalArgumentException("limit " + value + " with deadband " + deadband + " is not to be used");
        }
        over.ifPresent(name -> {
            if (!NAMEPLATE.containsKey(name)) {
                throw new IllegalArgumentException("'" + name + "' is not one of " + NAMEPLATE.keySet());
            }
        });
    }

    double of(Nameplate nameplate) {
        return value
                + over.map(name -> NAMEPLATE.get(name).applyAsDouble(nameplate)).orElse(0.0);
    }

    /** How far a value lies beyond the limit; negative on the good side. */
    double excess(double x, Nameplate nameplate) {
        double beyond = x - of(nameplate);
        return side == Side.ABOVE ? beyond : -beyond;
    }

    String words() {
        return side == Side.ABOVE ? "above" : "below";
    }
}
