package io.loopwarden.watch;

import io.loopwarden.control.HourTrace;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.instruments.SignalCheck;
import io.loopwarden.instruments.Trust;
import io.loopwarden.inventory.LoopPoint;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.Optional;

/** What the watch holds of one point: the newest sample, and a window if an indicator looks at it. */
final class PointState {

    /** Of two samples of one instant the more believable stays, then the smaller, so that order of arrival never matters. */
    private static final Comparator<Sample> BETTER = Comparator.comparing(
                    (Sample sample) -> sample.quality().level(), Comparator.reverseOrder())
            .thenComparing(PointState::valueOrZero, Comparator.reverseOrder());

    final PointName point;
    private final PointWindow window;
    private final SparseWindow sparse;
    /** What the point says of the coolant in the loop; null where it says nothing. */
    final LoopPoint loopPoint;

    private final double correction;
    private final SignalCheck check;
    private final HourTrace hour;
    private Sample newest;
    private Trust trust = Trust.FULL;

    PointState(PointName point, Watched watched, Sample first) {
        this.point = point;
        this.window = watched == Watched.CLOSELY || watched == Watched.SPARE ? new PointWindow() : null;
        this.sparse = watched == Watched.AVERAGED ? new SparseWindow() : null;
        this.loopPoint = LoopPoint.of(point).orElse(null);
        this.newest = first;
        this.correction = 0;
        this.check = TrustWatch.isSensor(point) ? new SignalCheck() : null;
        this.hour = ControlWatch.follows(point) ? new HourTrace() : null;
    }

    private PointState(PointName point, PointState original, double correction) {
        this.point = point;
        this.window = original.window;
        this.sparse = original.sparse;
        this.newest = original.newest;
        this.correction = correction;
        this.loopPoint = null;
        this.check = null;
        this.hour = null;
    }

    /** This sensor in the place of another one, which used to read so much more. */
    PointState standIn(PointName other, double readsMore) {
        return new PointState(other, this, readsMore);
    }

    /** How far its sensor can be believed, as judged now. */
    void trust(Trust now) {
        trust = now;
    }

    /** What its signal says of its sensor; empty where nothing is wrong or nothing is checked. */
    Optional<Trust> bySignal(double resolutionLimit, boolean steady) {
        return check == null ? Optional.empty() : check.verdict(point.value(), resolutionLimit, steady);
    }

    /** Its last hour, where the control loops need it. */
    Optional<HourTrace> hour() {
        return Optional.ofNullable(hour);
    }

    Trust trust() {
        return trust;
    }

    private static double valueOrZero(Sample sample) {
        return sample.hasValue() ? sample.valueSi() : 0;
    }

    Sample newest() {
        return newest;
    }

    PointWindow window() {
        return window;
    }

    /** False if the sample is older than what the window still holds. */
    boolean accept(Sample sample) {
        int later = sample.measuredAt().compareTo(newest.measuredAt());
        if (later > 0 || later == 0 && BETTER.compare(sample, newest) > 0) {
            newest = sample;
            if (check != null && isBelieved(sample)) {
                check.observe(
                        sample.measuredAt().getEpochSecond()
                                + 1e-9 * sample.measuredAt().getNano(),
                        sample.valueSi());
            }
        }
        boolean believed = isBelieved(sample);
        if (hour != null && believed) {
            hour.accept(
                    sample.measuredAt().getEpochSecond(), sample.measuredAt().getNano(), sample.valueSi());
        }
        if (window == null && sparse == null) {
            return true;
        }
        if (sparse != null) {
            return !believed || sparse.accept(sample.measuredAt(), sample.valueSi());
        }
        return window.accept(sample.measuredAt(), believed ? sample.valueSi() : 0, believed);
    }

    static boolean isBelieved(Sample sample) {
        return sample.hasValue() && sample.quality().level() != Quality.Level.BAD && isPossible(sample);
    }

    private static boolean isPossible(Sample sample) {
        return PossibleRange.of(sample.point().quantity()).contains(sample.valueSi());
    }

    /** The mean of the latest seconds; the newest value where they hold none; or why there is nothing to go by. */
    Computed<Estimate> latest(Instant at, Duration span, Duration staleAfter, SensorClass sensors) {
        if (trust.isFailed()) {
            return distrusted();
        }
        PointWindow.ShortMean mean = window.latest(at, (int) span.toSeconds());
        if (mean.count() > 0) {
            return Computed.of(estimate(mean.mean(), mean.scatterUncertainty(), sensors));
        }
        return newest(at, staleAfter, sensors);
    }

    /** The mean of the last two minutes, steady or not; the newest value where they hold none; or why there is neither. */
    Computed<Estimate> recent(Instant at, Duration staleAfter, SensorClass sensors) {
        long to = PointWindow.binOf(at);
        long from = to - SparseWindow.WINDOW_BINS;
        Computed<Estimate> now = newest(at, staleAfter, sensors);
        if (!now.isAvailable()) {
            return now;
        }
        if (sparse != null) {
            PointWindow.ShortMean mean = sparse.mean(from, to);
            return mean.count() == 0 ? now : Computed.of(estimate(mean.mean(), mean.scatterUncertainty(), sensors));
        }
        WindowStatistics s = WindowStatistics.of(window, from, to, 0);
        return s.present() == 0
                ? now
                : Computed.of(estimate(s.mean(), s.deviation() / Math.sqrt(s.present()), sensors));
    }

    /** Standard deviation of the samples of the last two minutes that are kept one by one; 0 for others. */
    double scatter(Instant at) {
        if (sparse == null) {
            return 0;
        }
        long to = PointWindow.binOf(at);
        PointWindow.ShortMean mean = sparse.mean(to - SparseWindow.WINDOW_BINS, to);
        return mean.scatterUncertainty() * Math.sqrt(mean.count());
    }

    private Computed<Estimate> distrusted() {
        boolean implausible = trust.finding() == Trust.Finding.OUT_OF_RANGE;
        return Computed.unavailable(implausible ? Reason.INPUT_IMPLAUSIBLE : Reason.INPUT_BAD, trust.reason());
    }

    private Computed<Estimate> newest(Instant at, Duration staleAfter, SensorClass sensors) {
        Duration age = Duration.between(newest.measuredAt(), at);
        if (age.compareTo(staleAfter) > 0) {
            return Computed.unavailable(
                    Reason.INPUT_STALE,
                    point + " last came at " + newest.measuredAt() + ", " + age.toSeconds() + " s ago; the limit is "
                            + staleAfter.toSeconds() + " s.");
        }
        if (!newest.hasValue() || newest.quality().level() == Quality.Level.BAD) {
            return Computed.unavailable(
                    Reason.INPUT_BAD,
                    point + " is called bad by its source (code "
                            + newest.quality().code() + ").");
        }
        if (!isPossible(newest)) {
            PossibleRange range = PossibleRange.of(point.quantity());
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    point + " is " + newest.valueSi() + " " + point.quantity().ucum() + ", outside " + range.least()
                            + " to " + range.most() + ".");
        }
        if (trust.isFailed()) {
            return distrusted();
        }
        return Computed.of(estimate(newest.valueSi(), 0, sensors));
    }

    /** A value with the accuracy of its sensor and its scatter together; set points are what they are. */
    Estimate estimate(double value, double scatter, SensorClass sensors) {
        if (point == Points.TCS_DP_SETPOINT || point == Points.APPROACH_SETPOINT) {
            return new Estimate(value, 0);
        }
        double systematic = switch (point.quantity()) {
            case TEMPERATURE -> sensors.temperatureStandardUncertaintyK(value);
            case VOLUME_FLOW -> Math.abs(value) * sensors.flowStandardUncertaintyRatio();
            case DIFFERENTIAL_PRESSURE, GAUGE_PRESSURE -> sensors.pressureStandardUncertaintyPa();
            default -> 0;
        };
        double own = Math.hypot(systematic, scatter);
        return new Estimate(value + correction, trust.doubt() == 0 ? own : Math.hypot(own, trust.doubt()));
    }
}
