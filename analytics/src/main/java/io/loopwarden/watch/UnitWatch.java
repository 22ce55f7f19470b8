package io.loopwarden.watch;

import io.loopwarden.availability.Condition;
import io.loopwarden.availability.UnitLife;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fleet.Unit;
import io.loopwarden.indicator.CoolantSignal;
import io.loopwarden.indicator.Design;
import io.loopwarden.indicator.Evidence;
import io.loopwarden.indicator.FoulingRecord;
import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Indicators;
import io.loopwarden.indicator.LoopSignals;
import io.loopwarden.indicator.Means;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.PumpRecord;
import io.loopwarden.indicator.Sentences;
import io.loopwarden.indicator.Signals;
import io.loopwarden.indicator.SteadyMemo;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.instruments.ClockCheck;
import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.inventory.LoopPoint;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/**
 * One unit over time: takes its samples, gives its figures. For one thread.
 *
 * <p>Figures depend on which samples were accepted, not on their order: late, repeated and reordered samples give the same
 * figures to the last bit. What is remembered for longer is taken at fixed instants of the samples' own time, however often figures
 * are asked for, so that a replay remembers what live did. Only a signal that cannot be judged now repeats the last judged one.
 * Memory is bounded: 13 kB for each of ten points that are watched closely, 7 kB more for each of eight that the control
 * loops need, 0.4 kB for each that is averaged (one for each filter,
 * three for each pump, and four), one sample for each other point.
 */
public final class UnitWatch {

    /** At these instants of the samples' time the unit's state goes into what is remembered. */
    private static final int REMEMBER_EVERY_S = 300;

    /** Every third of them ends a quarter of an hour, the longest steady window. */
    private static final int FOULING_EVERY_S = 900;

    /** Points of one scan may be stamped so far apart. */
    private static final int SETTLE_S = 5;

    /** A sample older by so much does not come late: the source's clock was ahead before. */
    private static final int CLOCK_SET_BACK_S = 3600;

    /** End of the year 9999. */
    private static final long LAST_S = 253_402_300_799L;

    private final Unit unit;
    private final WatchSettings settings;
    private final Design design;
    private final SteadyWindow steadyWindow;
    private final SteadyMemo steadyMemo = new SteadyMemo();
    private final FoulingWatch fouling;
    private final LoopWatch loop;
    private final ContainmentWatch containment;
    private final TrustWatch trust;
    private final ControlWatch control;
    private final ClockCheck clock = new ClockCheck();
    private final Map<PointName, PointState> states = new HashMap<>();
    private final List<PointState> sorted = new ArrayList<>();
    private final List<PointState> windowed = new ArrayList<>();
    private final List<PointState> averaged = new ArrayList<>();
    private PumpRecord pumps = PumpRecord.EMPTY;
    private UnitLife life = UnitLife.NEW;
    private MaintenanceLog maintenance = MaintenanceLog.EMPTY;
    private boolean written;
    private Optional<Estimate> concentration = Optional.empty();
    private final Map<UnitFunction, LastJudged> lastJudged = new EnumMap<>(UnitFunction.class);
    private Instant newestAt;
    private long rememberNextS;
    private long taken;
    private long tooOld;
    private long ahead;

    public UnitWatch(Unit unit) {
        this(unit, WatchSettings.DEFAULT);
    }

    public UnitWatch(Unit unit, WatchSettings settings) {
        this.unit = Objects.requireNonNull(unit, "unit");
        this.settings = Objects.requireNonNull(settings, "settings");
        this.design = new Design(unit.nameplate(), settings.indicators());
        this.steadyWindow = new SteadyWindow(settings, unit.nameplate().sensors());
        this.fouling = new FoulingWatch(design, settings.fouling());
        this.loop = new LoopWatch(unit.nameplate());
        this.containment = new ContainmentWatch(unit.nameplate(), settings.leaks());
        this.trust = new TrustWatch(unit.nameplate().sensors());
        this.control = new ControlWatch();
    }

    public Unit unit() {
        return unit;
    }

    /** What was promised of the unit, for {@link Sentences}. */
    public Design design() {
        return design;
    }

    /** What is remembered for longer than samples. */
    public UnitMemory memory() {
        return new UnitMemory(
                fouling.history().fold(Optional::of, gap -> Optional.empty()),
                pumps,
                loop.history(),
                containment.memory(),
                trust.history(),
                fouling.exchanger(),
                life);
    }

    /** Goes on from what was remembered before a restart; for the time before the first evaluation. */
    public void restore(UnitMemory memory) {
        memory.fouling().ifPresent(history -> fouling.restore(history, memory.exchanger()));
        pumps = memory.pumps();
        loop.restore(memory.loop());
        containment.restore(memory.containment());
        trust.restore(memory.sensors());
        life = memory.life();
    }

    /** What is remembered of the unit's fouling, with what follows from it. */
    public Computed<FoulingRecord> fouling() {
        return fouling.record();
    }

    /** Takes what somebody wrote in the maintenance log; an entry that is known already changes nothing. */
    public void accept(MaintenanceEntry entry) {
        if (!entry.unit().equals(unit.id())) {
            throw new IllegalArgumentException("entry about " + entry.unit() + " given to the watch of " + unit.id());
        }
        maintenance = maintenance.with(entry);
        written = true;
    }

    /** What was written about the unit. */
    public MaintenanceLog maintenance() {
        return maintenance;
    }

    /** Source time of the newest sample; empty before the first. */
    public Optional<Instant> newestAt() {
        return Optional.ofNullable(newestAt);
    }

    /** Samples taken so far, and what was not. */
    public Counts counts() {
        return new Counts(taken, tooOld, ahead);
    }

    /**
     * @param taken samples that went in, repeated ones included
     * @param tooOld samples older than the window: they no longer change a figure
     * @param ahead samples whose source time lay too far ahead of the time of receipt
     */
    public record Counts(long taken, long tooOld, long ahead) {}

    /** Takes the samples of a scan; those that claim to come from the future are counted and left out. */
    public void accept(Scan scan) {
        if (!scan.unit().equals(unit.id())) {
            throw new IllegalArgumentException("scan of " + scan.unit() + " given to the watch of " + unit.id());
        }
        Instant latestAllowed = scan.receivedAt().plus(settings.clockAheadLimit());
        Instant newest = Instant.MIN;
        for (Sample sample : scan.samples()) {
            newest = sample.measuredAt().isAfter(newest) ? sample.measuredAt() : newest;
            if (sample.measuredAt().isAfter(latestAllowed)) {
                ahead++;
            } else {
                accept(sample);
            }
        }
        clock.observe(epochS(scan.receivedAt()), epochS(scan.receivedAt()) - epochS(newest));
    }

    private static double epochS(Instant at) {
        return at.getEpochSecond() + at.getNano() * 1e-9;
    }

    /** Takes one sample, whose source time is trusted. */
    public void accept(Sample sample) {
        rememberBefore(sample.measuredAt().getEpochSecond());
        PointState state = states.get(sample.point());
        if (state == null) {
            state = begin(sample);
        }
        if (state.loopPoint != null) {
            contain(state.loopPoint, sample);
        }
        if (state.accept(sample)) {
            taken++;
        } else {
            tooOld++;
        }
        if (newestAt == null || sample.measuredAt().isAfter(newestAt)) {
            newestAt = sample.measuredAt();
        }
    }

    private void contain(LoopPoint point, Sample sample) {
        long second = sample.measuredAt().getEpochSecond();
        if (second >= 0 && second <= LAST_S) {
            boolean believed = PointState.isBelieved(sample);
            containment.accept(
                    point,
                    1000 * second + sample.measuredAt().getNano() / 1_000_000,
                    believed ? sample.valueSi() : 0,
                    believed);
        }
    }

    /** Takes the state at an instant that is over into what is remembered, before a sample of a later time comes in. */
    private void rememberBefore(long sampleS) {
        if (sampleS < 0 || sampleS > LAST_S) {
            return;
        }
        boolean due = sampleS >= rememberNextS + SETTLE_S;
        if (due && newestAt != null) {
            remember(Instant.ofEpochSecond(rememberNextS));
        }
        boolean clockWasSetBack = sampleS < rememberNextS - CLOCK_SET_BACK_S;
        if (due || clockWasSetBack) {
            rememberNextS = (Math.floorDiv(sampleS - SETTLE_S, (long) REMEMBER_EVERY_S) + 1) * REMEMBER_EVERY_S;
        }
    }

    private void remember(Instant at) {
        Evidence evidence = evidence(at);
        pumps = evidence.pumpsSeen();
        rememberLoop(evidence, at);
        rememberLife(evidence, at);
        if (at.getEpochSecond() % FOULING_EVERY_S == 0 && trust.mayLearnFouling()) {
            evidence.heatWindow().map(window -> {
                fouling.accept(window);
                return window;
            });
        }
    }

    private PointState begin(Sample first) {
        Watched watched = Watched.of(first.point());
        PointState state = new PointState(first.point(), watched, first);
        states.put(state.point, state);
        insert(sorted, state);
        if (state.window() != null && watched != Watched.SPARE) {
            insert(windowed, state);
        }
        if (watched != Watched.NOT) {
            insert(averaged, state);
        }
        return state;
    }

    private static void insert(List<PointState> list, PointState state) {
        list.add(state);
        list.sort((a, b) -> a.point.compareTo(b.point));
    }

    /**
     * Figures at an instant, normally that of the newest sample or shortly after; samples of the time after it are left out of the
     * figures as far as they still fit in the window.
     */
    public UnitFigures evaluate(Instant at) {
        takeMaintenance(at);
        Computed<LeakSuspicion> leak = containment.suspicion();
        Evidence evidence = evidence(at)
                .withLeak(leak)
                .withControl(control.state(states, at))
                .withConcentration(concentration);
        List<IndicatorResult> results = Indicators.evaluate(evidence);
        return new UnitFigures(
                unit.id(),
                at,
                results,
                signals(results, leak, evidence, at),
                Sentences.behindTheApproach(
                        valueOf(results, "approach"),
                        evidence.latest().of(Points.FWS_VALVE_POSITION),
                        valueOf(results, "approach-at-rated-duty"),
                        unit.nameplate()),
                newestSamples(),
                leak.fold(Optional::of, gap -> Optional.empty()),
                trust.found(),
                clock.offS(),
                Optional.of(new Background(loop.known(), control.state(), life)));
    }

    private Evidence evidence(Instant at) {
        trust.judge(sorted);
        List<PointState> close = believed(windowed, at);
        Means latest = latestMeans(close, at);
        return new Evidence(design, latest, steadyWindow.find(close, latest, at), fouling.record())
                .withMemo(steadyMemo)
                .withRecent(recentMeans(believed(averaged, at), at))
                .withPumps(pumps)
                .withLoop(loop.known(), this::scatter);
    }

    private void takeMaintenance(Instant at) {
        if (written) {
            written = false;
            loop.maintained(maintenance, at);
            containment.accept(maintenance);
            trust.maintained(maintenance, at);
            fouling.maintained(maintenance, at);
            concentration = Readings.concentration(maintenance, at);
        }
    }

    /** The points as figures take them: a redundant sensor stands in for one that failed. */
    private List<PointState> believed(List<PointState> points, Instant at) {
        List<PointState> believed = null;
        for (int i = 0; i < points.size(); i++) {
            PointState state = points.get(i);
            if (TrustWatch.hasStandIn(state.point) && !isThere(state, at)) {
                PointState spare = states.get(TrustWatch.standInOf(state.point));
                if (spare != null && isThere(spare, at)) {
                    believed = believed == null ? new ArrayList<>(points) : believed;
                    believed.set(i, spare.standIn(state.point, trust.readsMore(state.point)));
                }
            }
        }
        return believed == null ? points : believed;
    }

    private boolean isThere(PointState state, Instant at) {
        return state.latest(
                        at,
                        settings.latest(),
                        settings.staleAfter(),
                        unit.nameplate().sensors())
                .isAvailable();
    }

    private void rememberLife(Evidence evidence, Instant at) {
        boolean outOfUse = maintenance.entries().stream()
                .anyMatch(e -> e.kind() == MaintenanceKind.OUT_OF_USE
                        && !e.from().isAfter(at)
                        && e.until().isAfter(at));
        ZonedDateTime day = at.atZone(ZoneOffset.UTC);
        life = life.after(
                at.getEpochSecond(),
                day.getYear() * 12L + day.getMonthValue() - 1,
                outOfUse ? Condition.OUT_OF_USE : evidence.condition());
    }

    private void rememberLoop(Evidence evidence, Instant at) {
        takeMaintenance(at);
        loop.running(at, evidence.pumpsRunning());
        if (trust.isDue(at)) {
            trust.accept(evidence.balanceReading());
        }
        if (loop.isDue(at)) {
            evidence.loopReading().map(reading -> {
                loop.accept(reading);
                return reading;
            });
        }
    }

    /** Standard deviation of a point within the last two minutes; 0 where it is not watched. */
    private double scatter(PointName point) {
        PointState state = states.get(point);
        return state == null ? 0 : state.scatter(newestAt);
    }

    private Means latestMeans(List<PointState> close, Instant at) {
        Map<PointName, Computed<Estimate>> byPoint = new HashMap<>(2 * close.size());
        SensorClass sensors = unit.nameplate().sensors();
        for (PointState state : close) {
            byPoint.put(state.point, state.latest(at, settings.latest(), settings.staleAfter(), sensors));
        }
        return new Means(at.minus(settings.latest()), at, byPoint);
    }

    private Means recentMeans(List<PointState> all, Instant at) {
        Map<PointName, Computed<Estimate>> byPoint = new HashMap<>(2 * all.size());
        SensorClass sensors = unit.nameplate().sensors();
        for (PointState state : all) {
            byPoint.put(state.point, state.recent(at, settings.staleAfter(), sensors));
        }
        long to = PointWindow.binOf(at);
        return new Means(PointWindow.startOf(to - SparseWindow.WINDOW_BINS), at, byPoint);
    }

    private List<FunctionSignal> signals(
            List<IndicatorResult> results, Computed<LeakSuspicion> leak, Evidence evidence, Instant at) {
        FunctionSignal filtration = held(Signals.filtration(resultOf(results, "filtration-reserve")), at);
        FunctionSignal pumping = held(Signals.pumping(resultOf(results, "pumping-reserve")), at);
        FunctionSignal steering = held(Signals.control(resultOf(results, "control-reserve")), at);
        FunctionSignal instruments =
                held(Signals.instruments(valueOf(results, "heat-balance-closure"), settings.indicators()), at);
        List<FunctionSignal> signals = new ArrayList<>(List.of(
                held(Signals.heatTransfer(valueOf(results, "heat-transfer-reserve"), fouling.record()), at),
                LoopSignals.filtration(filtration, loop.known(), at.getEpochSecond()),
                LoopSignals.pumping(
                        pumping, loop.known(), unit.nameplate().limits().npshRequiredM(), evidence.suctionHeadM()),
                held(Signals.containment(leak), at),
                LoopSignals.control(steering, control.state()),
                LoopSignals.instruments(instruments, trust.found(), clock.offS())));
        CoolantSignal.of(design, results).ifPresent(signals::add);
        return List.copyOf(signals);
    }

    /** A signal that cannot be judged now stays what it was, so that a fault does not look healed at low load. */
    private FunctionSignal held(FunctionSignal now, Instant at) {
        if (now.signal() == Ne107.FAILURE) {
            return now;
        }
        if (now.judged()) {
            lastJudged.put(now.function(), new LastJudged(now, at));
            return now;
        }
        LastJudged last = lastJudged.get(now.function());
        boolean stillGood = last != null && !at.isAfter(last.at().plus(settings.holdLast()));
        return stillGood ? last.repeated(now) : now;
    }

    private static Computed<Estimate> valueOf(List<IndicatorResult> results, String key) {
        return resultOf(results, key).value();
    }

    private static IndicatorResult resultOf(List<IndicatorResult> results, String key) {
        for (IndicatorResult result : results) {
            if (result.key().equals(key)) {
                return result;
            }
        }
        throw new IllegalStateException("there is no indicator " + key);
    }

    private Map<PointName, Sample> newestSamples() {
        Map<PointName, Sample> newest = new LinkedHashMap<>(2 * sorted.size());
        for (PointState state : sorted) {
            newest.put(state.point, state.newest());
        }
        return Collections.unmodifiableMap(newest);
    }
}
