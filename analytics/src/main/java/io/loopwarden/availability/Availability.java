package io.loopwarden.availability;

import io.loopwarden.statistics.KaplanMeier;
import io.loopwarden.statistics.KaplanMeier.Life;
import io.loopwarden.statistics.TimeBetweenFailures;
import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * What one unit, or several together, were worth over the time that was watched.
 *
 * @param secondsIn time in each condition
 * @param upOfKnown time up over time up or down; what is planned or unknown counts in neither
 * @param upOfAll time up over all time that was not planned, the unknown counted as not up
 * @param betweenFailuresS mean time between failures in operation, with 90 % bounds
 * @param outlives share of operating times that last longer than a time
 */
public record Availability(
        Map<Condition, Double> secondsIn,
        long failures,
        OptionalDouble upOfKnown,
        OptionalDouble upOfAll,
        TimeBetweenFailures betweenFailuresS,
        KaplanMeier outlives) {

    private static final double CONFIDENCE = 0.9;

    public Availability {
        secondsIn = Map.copyOf(secondsIn);
    }

    public static Availability of(Collection<UnitLife> lives) {
        Map<Condition, Double> seconds = new EnumMap<>(Condition.class);
        double up = 0;
        for (Condition condition : Condition.values()) {
            double in = lives.stream().mapToDouble(l -> l.seconds(condition)).sum();
            seconds.put(condition, in);
            up += condition.isUp() ? in : 0;
        }
        long failures = lives.stream().mapToLong(UnitLife::failures).sum();
        double down = seconds.get(Condition.DOWN);
        List<Life> runs = new ArrayList<>();
        for (UnitLife life : lives) {
            life.runs().forEach(run -> runs.add(new Life(run, true)));
            if (life.runS() > 0) {
                runs.add(new Life(life.runS(), false));
            }
        }
        return new Availability(
                seconds,
                failures,
                share(up, up + down),
                share(up, up + down + seconds.get(Condition.UNKNOWN)),
                TimeBetweenFailures.of(up, failures, CONFIDENCE),
                KaplanMeier.of(runs));
    }

    private static OptionalDouble share(double part, double whole) {
        return whole > 0 ? OptionalDouble.of(part / whole) : OptionalDouble.empty();
    }

    /** Nines of the availability of the time that is known; empty where it never was down, since no time shows infinitely many. */
    public OptionalDouble nines() {
        return upOfKnown.isPresent() && upOfKnown.getAsDouble() < 1
                ? OptionalDouble.of(-Math.log10(1 - upOfKnown.getAsDouble()))
                : OptionalDouble.empty();
    }

    /** Time that it stands on: up or down. */
    public double knownSeconds() {
        return secondsIn.entrySet().stream()
                .filter(e -> e.getKey().isUp() || e.getKey() == Condition.DOWN)
                .mapToDouble(Map.Entry::getValue)
                .sum();
    }
}
