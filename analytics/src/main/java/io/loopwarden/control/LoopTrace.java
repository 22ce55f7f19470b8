package io.loopwarden.control;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The last hour of a unit's two control loops, as its points' traces hold it.
 *
 * @param valve position of the facility valve
 * @param command what its controller asks of it
 * @param speeds of the pumps
 */
public record LoopTrace(
        Optional<HourTrace> valve,
        Optional<HourTrace> command,
        List<HourTrace> speeds,
        Optional<HourTrace> tcsSupply,
        Optional<HourTrace> fwsSupply,
        Optional<HourTrace> tcsDp,
        Optional<HourTrace> fwsDp) {

    /** Three minutes to eleven: fast loops need not be waited for. */
    private static final int[] SHORT = {32, 64, 128};

    /** Twenty minutes and an hour, for slow loops. */
    private static final int[] LONG = {240, HourTrace.SLOTS};

    private static final int COVERED = 96;
    private static final int STICKS_WITHIN = 240;

    private static final double LEAST_VALVE = 0.01;
    private static final double LEAST_SPEED = 0.004;
    private static final double LEAST_APPROACH_K = 0.08;
    private static final double LEAST_DP_RATIO = 0.02;

    public LoopTrace {
        speeds = List.copyOf(speeds);
    }

    private interface Series {
        Optional<double[]> of(int window);
    }

    private static Optional<Oscillation> oscillation(Series series, double leastAmplitude, boolean slow) {
        for (int window : slow ? LONG : SHORT) {
            Optional<Oscillation> found =
                    series.of(window).flatMap(y -> Oscillation.of(y, HourTrace.STEP_S, leastAmplitude));
            if (found.isPresent()) {
                return found;
            }
        }
        return Optional.empty();
    }

    /** Of the valve, or of the approach that it holds. */
    Optional<Oscillation> valveLoop(long atS, boolean slow) {
        return oscillation(window -> valve.flatMap(v -> v.series(atS, window)), LEAST_VALVE, slow)
                .or(() -> oscillation(window -> approach(atS, window), LEAST_APPROACH_K, slow));
    }

    private Optional<double[]> approach(long atS, int window) {
        Optional<double[]> cool = fwsSupply.flatMap(t -> t.series(atS, window));
        return tcsSupply
                .flatMap(t -> t.series(atS, window))
                .flatMap(warm -> cool.map(c -> {
                    double[] difference = new double[window];
                    for (int i = 0; i < window; i++) {
                        difference[i] = warm[i] - c[i];
                    }
                    return difference;
                }));
    }

    /** Of the pumps' speed, or of the differential pressure that it holds. */
    Optional<Oscillation> pumpLoop(long atS, boolean slow) {
        return oscillation(window -> speed(atS, window), LEAST_SPEED, slow)
                .or(() -> oscillation(window -> relative(tcsDp, atS, window), LEAST_DP_RATIO, slow));
    }

    /** The fastest pump at each time, so that a change-over is no oscillation. */
    private Optional<double[]> speed(long atS, int window) {
        double[] most = null;
        for (HourTrace trace : speeds) {
            Optional<double[]> one = trace.series(atS, window);
            if (one.isPresent()) {
                most = most == null ? one.get() : larger(most, one.get());
            }
        }
        return Optional.ofNullable(most);
    }

    private static double[] larger(double[] a, double[] b) {
        double[] larger = a.clone();
        for (int i = 0; i < a.length; i++) {
            larger[i] = Math.max(a[i], b[i]);
        }
        return larger;
    }

    private static Optional<double[]> relative(Optional<HourTrace> trace, long atS, int window) {
        return trace.flatMap(t -> t.series(atS, window)).map(y -> {
            double mean = 0;
            for (double v : y) {
                mean += v / y.length;
            }
            for (int i = 0; i < y.length && mean != 0; i++) {
                y[i] /= mean;
            }
            return y;
        });
    }

    Optional<Oscillation> facility(long atS, boolean slow) {
        return oscillation(window -> relative(fwsDp, atS, window), LEAST_DP_RATIO, slow);
    }

    /** The least window is filled well enough to say that nothing oscillates quickly. */
    boolean isCovered(long atS) {
        return valve.flatMap(v -> v.series(atS, COVERED)).isPresent()
                || speed(atS, COVERED).isPresent();
    }

    /** How far the valve's command runs ahead before the stem follows, where it does so again and again. */
    OptionalDouble stickBand(long atS) {
        Optional<double[]> position = valve.flatMap(v -> v.series(atS, STICKS_WITHIN));
        Optional<double[]> asked = command.flatMap(c -> c.series(atS, STICKS_WITHIN));
        return position.isPresent() && asked.isPresent()
                ? Stiction.band(position.get(), asked.get())
                : OptionalDouble.empty();
    }
}
