package io.loopwarden.indicator;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Computed.Unavailable;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The pumps that turn, taken to turn alike.
 *
 * @param numbers of the pumps, from 1
 * @param speed mean relative speed
 * @param dp mean differential pressure over them, Pa, or why it is unknown
 */
record RunningPumps(List<Integer> numbers, Estimate speed, Computed<Estimate> dp) {

    private static final double STANDSTILL = 0.05;
    private static final double IMPOSSIBLE = 1.5;

    static Computed<RunningPumps> of(Hydraulics hydraulics) {
        Means means = hydraulics.means();
        List<Integer> turning = new ArrayList<>();
        double speeds = 0;
        Computed<Estimate> unknown = null;
        for (int n = 1; n <= hydraulics.design().nameplate().pumps(); n++) {
            Computed<Estimate> speed = means.of(Points.numbered("pump.{n}.speed", n));
            unknown = unknown == null && !speed.isAvailable() ? speed : unknown;
            double s = speed.fold(Estimate::value, gap -> 0.0);
            if (Math.abs(s) > IMPOSSIBLE) {
                return Computed.unavailable(
                        Reason.INPUT_IMPLAUSIBLE,
                        "pump." + n + ".speed is " + s + " of full speed: check its unit of measure.");
            }
            if (s > STANDSTILL) {
                turning.add(n);
                speeds += s;
            }
        }
        if (unknown instanceof Unavailable<Estimate> gap) {
            return Computed.unavailable(gap.reason(), gap.detail());
        }
        if (turning.isEmpty()) {
            return Computed.unavailable(Reason.NOT_RUNNING, "No pump turns.");
        }
        Estimate speed = new Estimate(speeds / turning.size(), HydraulicPriors.SPEED_UNCERTAINTY);
        return Computed.of(new RunningPumps(List.copyOf(turning), speed, meanDp(means, turning)));
    }

    private static Computed<Estimate> meanDp(Means means, List<Integer> turning) {
        List<Computed<Estimate>> each = new ArrayList<>(turning.size());
        for (int n : turning) {
            each.add(means.of(dpOf(n)));
        }
        return Computed.all(each)
                .flatMap(all ->
                        Propagation.figure(x -> Arrays.stream(x).sum() / x.length, all.toArray(Estimate[]::new)));
    }

    static PointName dpOf(int number) {
        return Points.numbered("pump.{n}.dp", number);
    }

    int count() {
        return numbers.size();
    }

    /** The pumps in words. */
    String words() {
        return count() == 1
                ? "pump " + numbers.get(0)
                : "pumps " + numbers.toString().replaceAll("[\\[\\]]", "");
    }
}
