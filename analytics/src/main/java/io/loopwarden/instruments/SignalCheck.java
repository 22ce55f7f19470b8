package io.loopwarden.instruments;

import io.loopwarden.instruments.Trust.Finding;
import java.util.Optional;

/**
 * What one sensor's signal says of the sensor: a value that never changes, noise that comes or goes, spikes, coarse steps. Each is held
 * against what this very sensor used to do, since quantised and quiet signals repeat values by themselves. 150 bytes a sensor; for one
 * thread.
 */
public final class SignalCheck {

    private static final int LEARNING = 60;

    /** Logarithm of how seldom a run of equal values may come by chance. */
    private static final double STUCK_LOG_CHANCE = Math.log(1e-9);

    private static final double STUCK_AFTER_S = 600;
    private static final int STUCK_OVER_LONGEST = 3;
    private static final int NEVER_MOVED_SAMPLES = 360;
    private static final double NEVER_MOVED_S = 3600;

    private static final double FAST = 1.0 / 32;
    private static final double SLOW = 1.0 / 5000;
    private static final double MUCH_NOISE = 25;
    private static final double LITTLE_NOISE = 0.01;
    private static final double PERSISTS_S = 1200;

    private static final double SPIKE_DEVIATIONS = 12;
    private static final int SPIKES = 3;
    private static final double SPIKES_WITHIN_S = 3600;

    /** Closer together they are noise. */
    private static final double SPIKES_APART_S = 120;

    private final double[] spikes = new double[SPIKES];
    private double last;
    private double beforeLast;
    private double lastAtS = Double.NEGATIVE_INFINITY;
    private double changedAtS;
    private int run;
    private int longestRun;
    private long samples;
    private long same;
    private double usual;
    private double now;
    private double smallestStep = Double.POSITIVE_INFINITY;
    private double noisySinceS = Double.POSITIVE_INFINITY;
    private double quietSinceS = Double.POSITIVE_INFINITY;
    private int spikeCount;

    /** Takes the newest sample, once. */
    public void observe(double epochS, double value) {
        if (epochS <= lastAtS) {
            return;
        }
        if (lastAtS == Double.NEGATIVE_INFINITY) {
            begin(epochS, value);
            return;
        }
        double step = Math.abs(value - last);
        samples++;
        if (step == 0) {
            run++;
        } else {
            same += run;
            longestRun = samples > LEARNING / 2 ? Math.max(longestRun, run) : longestRun;
            run = 0;
            changedAtS = epochS;
            smallestStep = Math.min(smallestStep, step);
        }
        noise(epochS, step);
        spike(epochS, value);
        beforeLast = last;
        last = value;
        lastAtS = epochS;
    }

    private void begin(double epochS, double value) {
        last = value;
        beforeLast = value;
        lastAtS = epochS;
        changedAtS = epochS;
    }

    private void noise(double epochS, double step) {
        double square = step * step;
        now += FAST * (square - now);
        boolean learning = samples <= 5 * LEARNING;
        double share = learning ? 1.0 / samples : SLOW;
        if (learning || now < MUCH_NOISE * usual && now > LITTLE_NOISE * usual) {
            // one wild step must not teach what is usual
            usual += share * (Math.min(square, learning ? square : MUCH_NOISE * usual) - usual);
        }
        boolean noisy = !learning && now > MUCH_NOISE * usual;
        noisySinceS = noisy ? Math.min(noisySinceS, epochS) : Double.POSITIVE_INFINITY;
        boolean quiet = !learning && run == 0 && now < LITTLE_NOISE * usual;
        boolean stays = quiet || run > 0 && quietSinceS < epochS;
        quietSinceS = stays ? Math.min(quietSinceS, epochS) : Double.POSITIVE_INFINITY;
    }

    private void spike(double epochS, double value) {
        double limit = SPIKE_DEVIATIONS * Math.sqrt(usual / 2);
        boolean out = Math.abs(last - beforeLast) > limit && Math.abs(value - last) > limit;
        if (samples > LEARNING && limit > 0 && out && Math.abs(value - beforeLast) < limit / 2) {
            spikes[spikeCount % SPIKES] = epochS;
            spikeCount++;
        }
    }

    /**
     * What is wrong with the signal.
     *
     * @param name of the point
     * @param resolutionLimit step that still is fine enough, in the point's inner unit
     * @param steady false for what belongs to a pump: its noise is another one at standstill, where it may be nought for long, and over
     *     a cavitating pump it is the plant's doing
     */
    public Optional<Trust> verdict(String name, double resolutionLimit, boolean steady) {
        double silent = lastAtS - changedAtS;
        boolean standsStill = !steady && last == 0;
        if (samples - run >= LEARNING && silent >= STUCK_AFTER_S && isStuck() && !standsStill) {
            return Optional.of(Trust.failed(
                    Finding.STUCK,
                    changedAtS,
                    name + " is stuck: the same value for " + minutes(silent) + ", in " + run
                            + " samples; it used to change."));
        }
        if (!steady) {
            return Optional.empty();
        }
        if (samples == run && run >= NEVER_MOVED_SAMPLES && silent >= NEVER_MOVED_S) {
            return Optional.of(Trust.doubted(
                    Finding.NEVER_MOVED,
                    changedAtS,
                    0,
                    name + " has shown one and the same value since it came, for " + minutes(silent) + "."));
        }
        if (lastAtS - noisySinceS >= PERSISTS_S) {
            return Optional.of(Trust.doubted(
                    Finding.NOISY,
                    noisySinceS,
                    Math.sqrt(now / 2),
                    name + " is " + Math.round(Math.sqrt(now / usual)) + " times as noisy as it was."));
        }
        if (lastAtS - quietSinceS >= PERSISTS_S) {
            return Optional.of(Trust.doubted(
                    Finding.NOISE_GONE,
                    quietSinceS,
                    Math.sqrt(usual / 2),
                    name + " has lost its noise: what is shown is no longer the sensor's own signal."));
        }
        boolean apart = spikeCount >= SPIKES && spikes[(spikeCount - 1) % SPIKES] - earliestSpikeS() >= SPIKES_APART_S;
        if (apart && lastAtS - earliestSpikeS() <= SPIKES_WITHIN_S) {
            return Optional.of(Trust.doubted(
                    Finding.SPIKES,
                    earliestSpikeS(),
                    SPIKE_DEVIATIONS * Math.sqrt(usual / 2),
                    name + " shows spikes: " + SPIKES + " within the hour."));
        }
        if (samples > 5 * LEARNING && smallestStep > resolutionLimit && smallestStep < Double.POSITIVE_INFINITY) {
            return Optional.of(Trust.doubted(
                    Finding.COARSE,
                    changedAtS,
                    smallestStep / Math.sqrt(12),
                    name + " moves in steps of " + (float) smallestStep + ", coarser than its class."));
        }
        return Optional.empty();
    }

    private boolean isStuck() {
        double chance = (same + 1.0) / (samples - run + 2);
        return run * Math.log(chance) < STUCK_LOG_CHANCE && run > STUCK_OVER_LONGEST * longestRun;
    }

    private double earliestSpikeS() {
        double earliest = spikes[0];
        for (double at : spikes) {
            earliest = Math.min(earliest, at);
        }
        return earliest;
    }

    private static String minutes(double seconds) {
        return Math.round(seconds / 60) + " min";
    }
}
