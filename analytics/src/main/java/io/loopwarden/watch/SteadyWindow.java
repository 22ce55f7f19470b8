package io.loopwarden.watch;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.indicator.Means;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Finds the longest window up to now in which everything that moves heat stood still. */
final class SteadyWindow {

    private static final int BIN_SECONDS = PointWindow.BIN_SECONDS;

    private final WatchSettings settings;
    private final SensorClass sensors;
    private final int holdBins;
    private final int[] candidateBins;

    SteadyWindow(WatchSettings settings, SensorClass sensors) {
        this.settings = settings;
        this.sensors = sensors;
        this.holdBins =
                (int) Math.min(PointWindow.WINDOW_BINS, settings.staleAfter().toSeconds() / BIN_SECONDS);
        int shortest = (int) (settings.shortestSteady().toSeconds() / BIN_SECONDS);
        this.candidateBins =
                new int[] {PointWindow.WINDOW_BINS, Math.max(shortest, 48), Math.max(shortest, 24), shortest};
    }

    /**
     * Means of the longest steady window, or which point stands in the way of the shortest.
     *
     * @param latest which points there are now; those without a value now have none in the window
     */
    Computed<Means> find(List<PointState> points, Means latest, Instant at) {
        long to = PointWindow.binOf(at);
        Computed<Means> found = Computed.unavailable(Reason.INPUT_MISSING, "No point was ever received.");
        for (int bins : candidateBins) {
            found = means(points, latest, to - bins, to);
            if (found.isAvailable()) {
                return found;
            }
        }
        return found;
    }

    private Computed<Means> means(List<PointState> points, Means latest, long from, long to) {
        Map<PointName, Computed<Estimate>> byPoint = new HashMap<>(2 * points.size());
        for (PointState state : points) {
            Computed<Estimate> now = latest.of(state.point);
            if (!now.isAvailable()) {
                byPoint.put(state.point, now);
                continue;
            }
            WindowStatistics s = WindowStatistics.of(state.window(), from, to, holdBins);
            Optional<Computed<Means>> obstacle = obstacle(state.point, s, from, to);
            if (obstacle.isPresent()) {
                return obstacle.get();
            }
            byPoint.put(state.point, mean(state, s));
        }
        return Computed.of(new Means(PointWindow.startOf(from), PointWindow.startOf(to), byPoint));
    }

    private Computed<Estimate> mean(PointState state, WindowStatistics s) {
        if (s.badShare() > 1 - settings.leastGoodShare()) {
            return Computed.unavailable(
                    Reason.INPUT_BAD,
                    state.point + " is called bad by its source in " + s.bad() + " of " + (s.good() + s.bad())
                            + " samples of the window.");
        }
        return Computed.of(state.estimate(s.mean(), s.meanUncertainty(), sensors));
    }

    private Optional<Computed<Means>> obstacle(PointName point, WindowStatistics s, long from, long to) {
        if (s.badShare() > 1 - settings.leastGoodShare()) {
            return Optional.empty();
        }
        if (s.goodShare() < settings.leastGoodShare()) {
            return Optional.of(s.onlyBeginning() ? beginning(point, s) : gappy(point, s));
        }
        double floor = limit(point, s.mean());
        double movement = floor > 0 ? Steadiness.movement(s, floor) : 0;
        return movement == 0 ? Optional.empty() : Optional.of(moved(point, s, movement, floor, from, to));
    }

    /** What a point may move by, in its unit; 0 where its movement does not matter. */
    private double limit(PointName point, double mean) {
        if (point.quantity() == Quantity.TEMPERATURE) {
            return settings.temperatureLimitK();
        }
        if (point.quantity() == Quantity.VOLUME_FLOW) {
            return settings.flowLimitRatio() * Math.abs(mean);
        }
        return point == Points.FWS_VALVE_POSITION ? settings.positionLimit() : 0;
    }

    private static Computed<Means> beginning(PointName point, WindowStatistics s) {
        return Computed.unavailable(
                Reason.NOT_STEADY,
                point + " has come for " + s.present() * BIN_SECONDS + " s; the shortest steady window takes "
                        + s.bins() * BIN_SECONDS + " s.");
    }

    private static Computed<Means> gappy(PointName point, WindowStatistics s) {
        return Computed.unavailable(
                Reason.INPUT_STALE,
                point + " has gaps: values in " + s.present() + " of the last " + s.bins() + " spans of " + BIN_SECONDS
                        + " s.");
    }

    private static Computed<Means> moved(
            PointName point, WindowStatistics s, double movement, double floor, long from, long to) {
        return Computed.unavailable(
                Reason.NOT_STEADY,
                point + " moved by " + Quantities.words(point.quantity(), movement) + " between "
                        + PointWindow.startOf(from) + " and " + PointWindow.startOf(to) + "; up to "
                        + Quantities.words(point.quantity(), Steadiness.limit(s, floor)) + " counts as steady.");
    }
}
