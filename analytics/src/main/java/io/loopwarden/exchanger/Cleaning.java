package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.List;
import java.util.Optional;

/**
 * A drop of fouling by somebody's work, found in the days or written in the maintenance log.
 *
 * @param epochDay last whole day before the drop is over
 * @param before fouling resistance of the days before
 * @param after the same of the days after
 * @param written it stands in the log
 */
public record Cleaning(long epochDay, Estimate before, Estimate after, double cleanResistanceKPerW, boolean written) {

    /** Days on either side that are compared; the day of the work itself lies between and counts for neither. */
    private static final int BEFORE = 3;

    private static final int AFTER = 2;

    /** Drop over its noise; of 400 days without one, the largest reaches 3. */
    private static final double LEAST_SCORE = 6;

    /** Drop over the clean resistance; less is not worth a note. */
    private static final double LEAST_SHARE = 0.02;

    /** The cleaning that the newest of these days shows, if they show one. */
    static Optional<Cleaning> find(List<FoulingDay> days, CleanModel model) {
        int n = days.size();
        if (n < BEFORE + 1 + AFTER) {
            return Optional.empty();
        }
        List<FoulingDay> old = days.subList(n - AFTER - 1 - BEFORE, n - AFTER - 1);
        List<FoulingDay> recent = days.subList(n - AFTER, n);
        double drop = mean(old) - mean(recent);
        double noise = Math.hypot(noise(old), noise(recent));
        double clean = days.get(n - 1).cleanResistanceKPerW();
        // apart as days too, so that the drop lies between both groups and not within one
        double apart = old.stream()
                        .mapToDouble(FoulingDay::resistanceKPerW)
                        .min()
                        .orElseThrow()
                - recent.stream().mapToDouble(FoulingDay::resistanceKPerW).max().orElseThrow();
        if (!(drop > LEAST_SCORE * noise && drop > LEAST_SHARE * clean && apart > drop / 2)) {
            return Optional.empty();
        }
        return Optional.of(new Cleaning(
                days.get(n - AFTER - 1).epochDay(),
                new Estimate(mean(old), old.get(0).resistance(model).standardUncertainty()),
                new Estimate(mean(recent), recent.get(0).resistance(model).standardUncertainty()),
                clean,
                false));
    }

    /** What a written cleaning brought, once there are days on both sides of it. */
    static Optional<Cleaning> written(long epochDay, List<FoulingDay> days, CleanModel model) {
        List<FoulingDay> old =
                days.stream().filter(d -> d.epochDay() < epochDay).toList();
        List<FoulingDay> recent =
                days.stream().filter(d -> d.epochDay() > epochDay).limit(AFTER).toList();
        if (old.isEmpty() || recent.size() < AFTER) {
            return Optional.empty();
        }
        List<FoulingDay> before = old.subList(Math.max(0, old.size() - BEFORE), old.size());
        return Optional.of(new Cleaning(
                epochDay,
                new Estimate(mean(before), before.get(0).resistance(model).standardUncertainty()),
                new Estimate(mean(recent), recent.get(0).resistance(model).standardUncertainty()),
                recent.get(0).cleanResistanceKPerW(),
                true));
    }

    boolean near(long day) {
        return Math.abs(epochDay - day) <= BEFORE;
    }

    /** What the cleaning brought. */
    public Computed<CleaningEffect> effect() {
        return CleaningEffect.of(before, after, cleanResistanceKPerW);
    }

    private static double mean(List<FoulingDay> days) {
        return days.stream().mapToDouble(FoulingDay::resistanceKPerW).average().orElseThrow();
    }

    private static double noise(List<FoulingDay> days) {
        double variance =
                days.stream().mapToDouble(d -> d.noiseKPerW() * d.noiseKPerW()).sum();
        return Math.sqrt(variance) / days.size();
    }
}
