package io.loopwarden.collector;

import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMap;
import io.loopwarden.samplelog.SampleLog;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.LongAdder;

/** Turns one connection's readings into samples by the units' point maps and appends them to the sample log. */
public final class Intake implements ReadingSink {

    /**
     * What source times are believed, against our clock.
     *
     * @param ahead a source clock may be fast by this much
     * @param old what was kept by a source through an outage may be this old
     */
    public record TimeLimits(Duration ahead, Duration old) {

        public static final TimeLimits DEFAULT = new TimeLimits(Duration.ofMinutes(5), Duration.ofDays(30));

        public TimeLimits {
            if (ahead.isNegative() || old.isNegative()) {
                throw new IllegalArgumentException("time limits " + ahead + " and " + old + " must not be negative");
            }
        }
    }

    private final String connection;
    private final SampleLog log;
    private final RejectLog rejects;
    private final Clock clock;
    private final TimeLimits limits;
    private final SourceClocks clocks = new SourceClocks();
    private final Map<UnitId, Map<String, PointMap.Entry>> entries = new HashMap<>();
    private final Map<Level, LongAdder> kept = new EnumMap<>(Level.class);
    private final Map<RejectReason, LongAdder> refused = new EnumMap<>(RejectReason.class);

    public Intake(Connection connection, SampleLog log, RejectLog rejects, Clock clock) {
        this(connection, log, rejects, clock, TimeLimits.DEFAULT);
    }

    public Intake(Connection connection, SampleLog log, RejectLog rejects, Clock clock, TimeLimits limits) {
        this.connection = connection.name();
        this.log = Objects.requireNonNull(log, "log");
        this.rejects = Objects.requireNonNull(rejects, "rejects");
        this.clock = Objects.requireNonNull(clock, "clock");
        this.limits = Objects.requireNonNull(limits, "limits");
        for (Connection.ServedUnit served : connection.units()) {
            entries.put(served.unit(), new HashMap<>(served.map().bySource(served.nameAtSource())));
        }
        for (Level level : Level.values()) {
            kept.put(level, new LongAdder());
        }
        for (RejectReason reason : RejectReason.values()) {
            refused.put(reason, new LongAdder());
        }
    }

    @Override
    public CompletableFuture<Void> accept(UnitId unit, Instant receivedAt, List<RawReading> readings) {
        Map<String, PointMap.Entry> ofUnit = entries.get(unit);
        if (ofUnit == null) {
            reject(RejectReason.UNKNOWN_UNIT, readings.size(), "unit '" + unit + "' is not served here", unit.value());
            return CompletableFuture.completedFuture(null);
        }
        Instant now = clock.instant();
        clocks.heard(unit, receivedAt, readings);
        Instant latest = now.plus(limits.ahead());
        Instant earliest = now.minus(limits.old());
        List<Sample> samples = new ArrayList<>(readings.size());
        for (RawReading reading : readings) {
            PointMap.Entry entry = ofUnit.get(reading.source());
            if (entry == null) {
                reject(reading, RejectReason.UNKNOWN_TAG, unit + " has no tag '" + reading.source() + "' in its map");
            } else if (reading.measuredAt().isAfter(latest)
                    || reading.measuredAt().isBefore(earliest)) {
                reject(reading, RejectReason.TIME_FAR_OFF, farOff(unit, reading, now));
            } else {
                addSample(samples, unit, reading, entry);
            }
        }
        return samples.isEmpty()
                ? CompletableFuture.completedFuture(null)
                : append(new Scan(unit, receivedAt, samples));
    }

    /** How far the clock of each unit's source is from ours. */
    public SourceClocks clocks() {
        return clocks;
    }

    public IntakeCounters counters() {
        Map<RejectReason, Long> rejected = new EnumMap<>(RejectReason.class);
        refused.forEach((reason, count) -> {
            if (count.sum() > 0) {
                rejected.put(reason, count.sum());
            }
        });
        return new IntakeCounters(
                connection,
                kept.get(Level.GOOD).sum(),
                kept.get(Level.UNCERTAIN).sum(),
                kept.get(Level.BAD).sum(),
                rejected);
    }

    private void addSample(List<Sample> samples, UnitId unit, RawReading reading, PointMap.Entry entry) {
        if (reading.value() instanceof RawValue.None) {
            Quality bad = reading.quality().level() == Level.BAD
                    ? reading.quality()
                    : new Quality(Level.BAD, reading.quality().code());
            samples.add(sample(reading, entry, bad));
            return;
        }
        Sample asSent = sample(reading, entry, reading.quality());
        double valueSi = asSent.valueSi();
        if (!Double.isFinite(valueSi)) {
            reject(
                    reading,
                    RejectReason.WRONG_TYPE,
                    unit + " '" + reading.source() + "' is too large for " + entry.point() + ": " + reading.value());
        } else if (reading.quality().isGood() && !entry.isPlausible(valueSi)) {
            samples.add(sample(
                    reading,
                    entry,
                    new Quality(Level.UNCERTAIN, reading.quality().code())));
        } else {
            samples.add(asSent);
        }
    }

    private static Sample sample(RawReading reading, PointMap.Entry entry, Quality quality) {
        return new Sample(entry.point(), reading.measuredAt(), reading.value(), entry.conversion(), quality);
    }

    private CompletableFuture<Void> append(Scan scan) {
        CompletableFuture<Void> appended;
        try {
            appended = log.append(scan);
        } catch (RuntimeException refusedAtOnce) {
            appended = CompletableFuture.failedFuture(refusedAtOnce);
        }
        return appended.whenComplete((done, failure) -> {
            if (failure == null) {
                scan.samples()
                        .forEach(sample -> kept.get(sample.quality().level()).increment());
            } else {
                int count = scan.samples().size();
                String detail = count + " samples of " + scan.unit() + " were not kept: " + failure.getMessage();
                reject(RejectReason.LOG_FULL, count, detail, "");
            }
        });
    }

    private void reject(RawReading reading, RejectReason reason, String detail) {
        reject(reason, 1, detail, reading.source() + " = " + reading.value());
    }

    private void reject(RejectReason reason, int count, String detail, String payload) {
        refused.get(reason).add(count);
        rejects.reject(connection, reason, detail, payload);
    }

    private String farOff(UnitId unit, RawReading reading, Instant now) {
        return unit + " '" + reading.source() + "' has source time " + reading.measuredAt() + ", our clock says " + now
                + ", believed are " + limits.old() + " before to " + limits.ahead() + " after it";
    }
}
