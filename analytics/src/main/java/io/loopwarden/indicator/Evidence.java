package io.loopwarden.indicator;

import io.loopwarden.availability.Condition;
import io.loopwarden.control.ControlState;
import io.loopwarden.exchanger.FoulingEstimate;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.exchanger.SensorBalance;
import io.loopwarden.exchanger.SteadyState;
import io.loopwarden.fleet.PointName;
import io.loopwarden.hydraulics.LoopReading;
import io.loopwarden.instruments.BalanceReading;
import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;

/**
 * What the indicators look at, for one unit and one instant. What several of them need is worked out once. Made for one
 * evaluation and one thread.
 */
public final class Evidence {

    private static final List<PointName> TEMPERATURES =
            List.of(Side.TCS.warm, Side.TCS.cool, Side.FWS.cool, Side.FWS.warm);

    private final Design design;
    private final Means latest;
    private final Computed<Means> steady;
    private Computed<Means> steadyAndRunning;
    private Computed<SteadyExchanger> exchanger;
    private Computed<Estimate> conductance;
    private Computed<SensorBalance> sensorBalance;
    private Computed<Estimate> approachAtRatedDuty;
    private final Computed<FoulingRecord> record;
    private Computed<SteadyState> steadyState;
    private Computed<FoulingEstimate> fouling;
    private Hydraulics hydraulics;
    private SteadyMemo memo = new SteadyMemo();
    private Computed<LeakSuspicion> leak =
            Computed.unavailable(Reason.INPUT_MISSING, "This unit's containment is not watched.");
    private ControlState control = ControlState.UNSEEN;
    private Optional<Estimate> concentration = Optional.empty();
    private Computed<LoopState> loop =
            Computed.unavailable(Reason.BASELINE_MISSING, "No history of this unit's loops is kept.");

    /** Evidence of a unit of which no history is kept. */
    public Evidence(Design design, Means latest, Computed<Means> steady) {
        this(
                design,
                latest,
                steady,
                Computed.unavailable(Reason.BASELINE_MISSING, "No history of this unit's fouling is kept."));
    }

    /**
     * @param latest means of the latest seconds; also says which points are missing, stale or bad now
     * @param steady means of the longest steady window that ends now, or which point moved
     * @param record what earlier windows said of the fouling
     */
    public Evidence(Design design, Means latest, Computed<Means> steady, Computed<FoulingRecord> record) {
        this.design = Objects.requireNonNull(design, "design");
        this.latest = Objects.requireNonNull(latest, "latest");
        this.steady = Objects.requireNonNull(steady, "steady");
        this.record = Objects.requireNonNull(record, "record");
    }

    /** Means of the last two minutes, steady or not, for what follows a flow at once; without them the latest seconds serve. */
    public Evidence withRecent(Means recent) {
        hydraulics = new Hydraulics(design, recent, PumpRecord.EMPTY);
        return this;
    }

    /** What earlier evaluations of the same unit worked out, as far as it still holds. */
    public Evidence withMemo(SteadyMemo kept) {
        memo = kept;
        return this;
    }

    /** What is remembered of pumps that may stand still now. */
    public Evidence withPumps(PumpRecord pumps) {
        hydraulics = new Hydraulics(design, hydraulics().means(), pumps);
        return this;
    }

    /** What is remembered of the pumps with what they show now. */
    public PumpRecord pumpsSeen() {
        return hydraulics().pumpsSeen();
    }

    /**
     * What is remembered of filters, pumps, racks and valve.
     *
     * @param scatter standard deviation of a point within the last two minutes
     */
    public Evidence withLoop(LoopKnown known, ToDoubleFunction<PointName> scatter) {
        loop = Computed.of(LoopState.of(known, hydraulics(), scatter));
        return this;
    }

    /** What is thought of leaks. */
    public Evidence withLeak(Computed<LeakSuspicion> suspicion) {
        leak = suspicion;
        return this;
    }

    Computed<LeakSuspicion> leak() {
        return leak;
    }

    /** The last two minutes as the histories of the loops take them. */
    public Computed<LoopReading> loopReading() {
        return loop.map(LoopState::reading);
    }

    /** Head above vapour pressure at the suction of the pump that runs alone. */
    public OptionalDouble suctionHeadM() {
        return loop.fold(
                l -> l.reading().pump().flatMap(LoopReading.PumpReading::suctionHeadM).stream()
                        .mapToDouble(Double::doubleValue)
                        .findFirst(),
                gap -> OptionalDouble.empty());
    }

    /** Concentration of the coolant as somebody measured it last. */
    public Evidence withConcentration(Optional<Estimate> massFraction) {
        concentration = massFraction;
        return this;
    }

    Optional<Estimate> concentration() {
        return concentration;
    }

    /** How the control loops behave, as last looked at. */
    public Evidence withControl(ControlState state) {
        control = state;
        return this;
    }

    ControlState control() {
        return control;
    }

    /** What the sensors say of each other. */
    public BalanceReading balanceReading() {
        return BalanceReadings.of(design, hydraulics().means(), steady);
    }

    Computed<LoopState> loop() {
        return loop;
    }

    /** What the unit does now. */
    public Condition condition() {
        return Operation.of(this);
    }

    /** Numbers of the pumps that turn; empty where none does or it is not known. */
    public List<Integer> pumpsRunning() {
        return hydraulics().running().fold(RunningPumps::numbers, gap -> List.of());
    }

    Hydraulics hydraulics() {
        if (hydraulics == null) {
            hydraulics = new Hydraulics(design, latest, PumpRecord.EMPTY);
        }
        return hydraulics;
    }

    Design design() {
        return design;
    }

    public Means latest() {
        return latest;
    }

    Computed<Means> steady() {
        return steady;
    }

    /** The steady means, unless something that says more than "not steady" stands in the way. */
    Computed<Means> steadyAndRunning() {
        if (steadyAndRunning == null) {
            steadyAndRunning = temperaturesNow()
                    .flatMap(t -> Flows.of(design, latest))
                    .fold(flows -> steady, gap -> Computed.unavailable(gap.reason(), gap.detail()));
        }
        return steadyAndRunning;
    }

    private Computed<Means> temperaturesNow() {
        Computed<Means> known = Computed.of(latest);
        for (PointName point : TEMPERATURES) {
            known = known.flatMap(k -> latest.of(point).map(t -> k));
        }
        return known;
    }

    /** The exchanger in the steady window, its two sides not contradicting each other. */
    Computed<SteadyExchanger> exchanger() {
        if (exchanger == null) {
            exchanger = steadyAndRunning().flatMap(means -> memo.exchanger.of(means, () -> exchanger(means)));
        }
        return exchanger;
    }

    private Computed<SteadyExchanger> exchanger(Means means) {
        return SteadyExchanger.of(design, means)
                .flatMap(state ->
                        Closure.of(design, means).fold(closure -> believed(state, closure), gap -> Computed.of(state)));
    }

    private Computed<SteadyExchanger> believed(SteadyExchanger state, Estimate closure) {
        double allowed = design.settings().closureRefusal() * closure.standardUncertainty();
        return Math.abs(closure.value()) <= allowed
                ? Computed.of(state)
                : Computed.unavailable(
                        Reason.INPUT_IMPLAUSIBLE,
                        "The heat balance is open by " + Words.percent(Math.abs(closure.value()), 1)
                                + ", more than the sensors can explain (" + Words.percent(allowed, 1)
                                + "): at least one of temperatures and flows is wrong.");
    }

    /** UA in the steady window, W/K: seen through what is learnt of the sensors, or by their class until then. */
    Computed<Estimate> conductance() {
        if (conductance == null) {
            conductance = learnt().flatMap(h -> steadyState().flatMap(h::conductanceWPerK))
                    .fold(Computed::of, gap -> exchanger().flatMap(SteadyExchanger::conductanceWPerK));
        }
        return conductance;
    }

    /** The fouling history, once its baseline is learnt and both flows are there now. */
    private Computed<FoulingHistory> learnt() {
        return record.map(FoulingRecord::history)
                .flatMap(h -> h.stillLearning()
                        .<Computed<FoulingHistory>>map(why -> Computed.unavailable(Reason.BASELINE_MISSING, why))
                        .orElseGet(() -> Computed.of(h)))
                .flatMap(h -> steadyState().map(s -> h));
    }

    /** Approach at rated duty and flow with the valve open, K; only where UA itself can be trusted. */
    Computed<Estimate> approachAtRatedDuty() {
        if (approachAtRatedDuty == null) {
            approachAtRatedDuty = learnt().fold(this::approachAtRatedDuty, gap -> approachByClass());
        }
        return approachAtRatedDuty;
    }

    private Computed<Estimate> approachByClass() {
        return conductance()
                .flatMap(ua ->
                        exchanger().flatMap(state -> steady.flatMap(means -> RatedCondition.approachK(state, means))));
    }

    private Computed<Estimate> approachAtRatedDuty(FoulingHistory h) {
        return steady.flatMap(means -> means.of(Side.FWS.cool)
                .flatMap(t -> LearntCondition.approachK(design, h, fouling(), means, t.value())));
    }

    /** The same with facility water as warm as the nameplate has it. */
    Computed<Estimate> approachAtDesignTemperature() {
        double supplyC = design.nameplate().designFwsSupplyTemperatureC();
        return learnt().flatMap(
                        h -> steady.flatMap(means -> LearntCondition.approachK(design, h, fouling(), means, supplyC)));
    }

    /** The steady window as what is remembered of the exchanger takes it. */
    public Computed<HeatWindow> heatWindow() {
        return steadyState()
                .flatMap(s ->
                        steady.map(means -> HeatWindow.of(s, means, hydraulics().means(), design.nameplate())));
    }

    /** All sensors around the exchanger against each other, in the steady window. */
    Computed<SensorBalance> sensorBalance() {
        if (sensorBalance == null) {
            Means recent = hydraulics().means();
            sensorBalance = steadyAndRunning()
                    .flatMap(means -> memo.sensorBalance.of(
                            SensorAgreement.inputs(means, recent),
                            () -> SensorAgreement.balance(design, means, recent)));
        }
        return sensorBalance;
    }

    Computed<FoulingRecord> record() {
        return record;
    }

    /** The steady window as the fouling history takes it, its two sides not contradicting each other. */
    public Computed<SteadyState> steadyState() {
        if (steadyState == null) {
            steadyState = exchanger()
                    .flatMap(e -> steady)
                    .flatMap(means -> memo.steadyState.of(means, () -> SteadyStates.of(design, means)));
        }
        return steadyState;
    }

    /** Fouling in the steady window, against the baseline as far as it is learnt. */
    Computed<FoulingEstimate> fouling() {
        if (fouling == null) {
            fouling = record.flatMap(r -> steadyState().flatMap(r.history()::fouling));
        }
        return fouling;
    }
}
