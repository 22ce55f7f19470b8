package io.loopwarden.watch;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.instruments.BalanceReading;
import io.loopwarden.instruments.DriftHistory;
import io.loopwarden.instruments.DriftHistory.Drift;
import io.loopwarden.instruments.DriftHistory.Suspect;
import io.loopwarden.instruments.Trust;
import io.loopwarden.instruments.Trust.Finding;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** How far each sensor of a unit can be believed now. */
final class TrustWatch {

    private static final Set<Quantity> MEASURED = Set.of(
            Quantity.TEMPERATURE,
            Quantity.VOLUME_FLOW,
            Quantity.DIFFERENTIAL_PRESSURE,
            Quantity.GAUGE_PRESSURE,
            Quantity.POWER,
            Quantity.CONDUCTIVITY,
            Quantity.PH);

    /** Sensors that heat transfer rests on. */
    static final Set<PointName> BEHIND_UA = Set.of(
            Points.TCS_SUPPLY_TEMPERATURE,
            Points.TCS_RETURN_TEMPERATURE,
            Points.FWS_SUPPLY_TEMPERATURE,
            Points.FWS_RETURN_TEMPERATURE,
            Points.TCS_FLOW,
            Points.FWS_FLOW);

    private final SensorClass sensors;
    private Map<PointName, Trust> found = Map.of();
    private DriftHistory history = DriftHistory.NEW;
    private Optional<Drift> drift = Optional.empty();

    TrustWatch(SensorClass sensors) {
        this.sensors = sensors;
    }

    DriftHistory history() {
        return history;
    }

    void restore(DriftHistory remembered) {
        history = remembered;
        drift = history.drift();
    }

    /** Sensors that are not fully believed, by name. */
    Map<PointName, Trust> found() {
        return found;
    }

    /** Judges every sensor by its newest sample, and tells each point's state. */
    void judge(List<PointState> points) {
        Map<PointName, Trust> next = null;
        for (PointState state : points) {
            if (!isSensor(state.point)) {
                continue;
            }
            Trust trust = byDrift(state, bySignal(state));
            state.trust(trust);
            trust = bySource(state).and(trust);
            if (trust != Trust.FULL) {
                next = next == null ? new TreeMap<>() : next;
                next.put(state.point, trust);
            }
        }
        found = next == null ? Map.of() : Collections.unmodifiableMap(next);
    }

    static boolean isSensor(PointName point) {
        return MEASURED.contains(point.quantity()) && point != Points.TCS_DP_SETPOINT
                || point == Points.RESERVOIR_LEVEL;
    }

    /** What the newest sample itself says; figures look at that sample by sample, so it is told and not acted on. */
    private static Trust bySource(PointState state) {
        Sample newest = state.newest();
        double atS = epochS(newest.measuredAt());
        if (!newest.hasValue() || newest.quality().level() == Quality.Level.BAD) {
            return Trust.failed(
                    Finding.CALLED_BAD,
                    atS,
                    state.point + " is called bad by its source (code "
                            + newest.quality().code() + ").");
        }
        double value = newest.valueSi();
        PossibleRange range = PossibleRange.of(state.point.quantity());
        if (!range.contains(value)) {
            return Trust.failed(
                    Finding.OUT_OF_RANGE,
                    atS,
                    state.point + " is " + value + " " + state.point.quantity().ucum() + ", outside " + range.least()
                            + " to " + range.most() + ".");
        }
        return Trust.FULL;
    }

    private Trust bySignal(PointState state) {
        double value = state.newest().hasValue() ? state.newest().valueSi() : 0;
        boolean pump = state.point.value().startsWith("pump.");
        return state.bySignal(resolution(state.point, value), !pump).orElse(Trust.FULL);
    }

    /** Steps up to twice the standard uncertainty of its class are fine enough. */
    private double resolution(PointName point, double value) {
        return 2
                * switch (point.quantity()) {
                    case TEMPERATURE -> sensors.temperatureStandardUncertaintyK(value);
                    case VOLUME_FLOW -> Math.abs(value) * sensors.flowStandardUncertaintyRatio();
                    case DIFFERENTIAL_PRESSURE, GAUGE_PRESSURE -> sensors.pressureStandardUncertaintyPa();
                    default -> Double.POSITIVE_INFINITY;
                };
    }

    private Trust byDrift(PointState state, Trust trust) {
        if (drift.isEmpty() || trust.isFailed()) {
            return trust;
        }
        List<Suspect> suspects = drift.get().points();
        for (Suspect suspect : suspects) {
            if (suspect.point() == state.point) {
                return trust.and(drifting(state, suspect, suspects));
            }
        }
        return trust;
    }

    private Trust drifting(PointState state, Suspect suspect, List<Suspect> suspects) {
        boolean flow = state.point.quantity() == Quantity.VOLUME_FLOW;
        double amount = Math.abs(suspect.amount());
        String by = flow ? round(100 * amount, 1) + " %" : round(amount, 2) + " K";
        double since = history.atEpochS();
        if (suspects.size() == 1 && hasStandIn(state.point)) {
            return Trust.failed(
                    Finding.DRIFTS, since, state.point + " has drifted by " + by + "; its redundant sensor stands in.");
        }
        double doubt = flow ? amount * Math.abs(state.newest().valueSi()) : amount;
        String reason = suspects.size() == 1
                ? state.point + " has drifted by " + by + "."
                : "One of "
                        + suspects.stream().map(s -> s.point().value()).collect(Collectors.joining(", "))
                        + " drifts; the data cannot tell which. Were it " + state.point + ", it would be by " + by
                        + ".";
        return Trust.doubted(Finding.DRIFTS, since, doubt, reason);
    }

    private static double round(double value, int decimals) {
        double scale = Math.pow(10, decimals);
        return Math.rint(value * scale) / scale;
    }

    static boolean hasStandIn(PointName point) {
        return point == Points.TCS_SUPPLY_TEMPERATURE || point == Points.TCS_RETURN_TEMPERATURE;
    }

    static PointName standInOf(PointName point) {
        return point == Points.TCS_SUPPLY_TEMPERATURE
                ? Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT
                : Points.TCS_RETURN_TEMPERATURE_REDUNDANT;
    }

    /** By how much a sensor used to read more than its stand-in; 0 as long as that is not learnt. */
    double readsMore(PointName point) {
        return (point == Points.TCS_SUPPLY_TEMPERATURE ? history.supplyPairK() : history.returnPairK()).orElse(0.0);
    }

    private static double epochS(Instant at) {
        return at.getEpochSecond() + at.getNano() * 1e-9;
    }

    boolean isDue(Instant at) {
        return history.isDue(at.getEpochSecond());
    }

    /** Takes what the sensors say of each other; pairs with a failed sensor say nothing. */
    void accept(BalanceReading r) {
        history = history.after(new BalanceReading(
                r.epochS(),
                believed(Points.TCS_SUPPLY_TEMPERATURE, Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT)
                        ? r.supplyPairK()
                        : Optional.empty(),
                believed(Points.TCS_RETURN_TEMPERATURE, Points.TCS_RETURN_TEMPERATURE_REDUNDANT)
                        ? r.returnPairK()
                        : Optional.empty(),
                believed(Points.TCS_FLOW, Points.TCS_RETURN_FLOW) ? r.flowPairRatio() : Optional.empty(),
                BEHIND_UA.stream().noneMatch(this::isFailed) ? r.balanceK() : Optional.empty(),
                r.riseK(),
                r.rateRatio()));
        drift = history.drift();
    }

    private boolean believed(PointName a, PointName b) {
        return !isFailed(a) && !isFailed(b);
    }

    private boolean isFailed(PointName point) {
        return found.getOrDefault(point, Trust.FULL).isFailed();
    }

    /** False while one of the sensors behind UA drifts: what is learnt of fouling waits until that is settled. */
    boolean mayLearnFouling() {
        return drift.isEmpty()
                || drift.get().points().stream().noneMatch(s -> BEHIND_UA.contains(s.point()) && !isFailed(s.point()));
    }

    /** A calibration or a new sensor: what the sensors say of each other is learnt anew. */
    void maintained(MaintenanceLog log, Instant at) {
        log.entries().stream()
                .filter(e -> e.kind() == MaintenanceKind.CALIBRATION || e.kind() == MaintenanceKind.PART_REPLACED)
                .filter(e -> e.part().filter(TrustWatch::isPoint).isPresent())
                .map(MaintenanceEntry::until)
                .filter(until -> !until.isAfter(at))
                .max(Instant::compareTo)
                .ifPresent(until -> {
                    history = history.calibrated(until.getEpochSecond());
                    drift = history.drift();
                });
    }

    private static boolean isPoint(String part) {
        return BEHIND_UA.stream().anyMatch(p -> part.startsWith(p.value()))
                || part.equals(Points.TCS_RETURN_FLOW.value());
    }
}
