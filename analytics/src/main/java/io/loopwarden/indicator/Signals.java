package io.loopwarden.indicator;

import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.Collection;

/** From figures to the status signals of NAMUR NE 107. */
public final class Signals {

    /** Coverage factor for 95 % on one side under a normal distribution. */
    private static final double ONE_SIDED_95 = 1.6448536269514722;

    private static final double SUSPICIOUS = 0.1;
    private static final double PUMPS_TRIP_SOON_S = 3600;

    private Signals() {}

    /** Deposits that take less are told and ask for nothing; 5 % of UA is what a unit of this kind has to spare (common practice). */
    private static final double FOULED_RATIO = 0.05;

    /** Notice that opening an exchanger takes (common practice, no source). */
    private static final double NOTICE_DAYS = 30;

    /**
     * Heat transfer: out of specification once rated duty is out of reach with 95 % confidence (one-sided), maintenance required
     * while it is not within reach with that confidence, or once deposits are proven that have taken a twentieth of UA or will use up
     * the reserve within a month. Where the instruments leave nothing to judge by, that is their signal.
     *
     * @param reserve the {@code heat-transfer-reserve} now
     * @param record what is remembered of the fouling
     */
    public static FunctionSignal heatTransfer(Computed<Estimate> reserve, Computed<FoulingRecord> record) {
        FunctionSignal now = reserve.fold(Signals::byReserve, gap -> notJudged(UnitFunction.HEAT_TRANSFER, gap));
        if (now.signal() != Ne107.GOOD) {
            return now;
        }
        return record.flatMap(r -> r.lostRatio().map(lost -> withDeposits(now, r, lost)))
                .fold(with -> with, gap -> now);
    }

    private static FunctionSignal withDeposits(FunctionSignal now, FoulingRecord record, Estimate lost) {
        if (!record.fouled()) {
            return now;
        }
        String words = now.reason() + " Deposits have taken " + Words.fixed(100 * lost.value(), 1) + " ± "
                + Words.percent(Estimate.K95 * lost.standardUncertainty(), 1) + " of UA since the baseline";
        double days = record.daysToLimit().fold(Estimate::value, gap -> Double.POSITIVE_INFINITY);
        String limit = days <= NOTICE_DAYS
                ? " and use up the reserve in " + Words.fixed(Math.max(0, days), 0) + " days."
                : ".";
        boolean due = lost.value() >= FOULED_RATIO || days <= NOTICE_DAYS;
        return new FunctionSignal(
                now.function(), due ? Ne107.MAINTENANCE_REQUIRED : Ne107.GOOD, due || now.judged(), words + limit);
    }

    private static FunctionSignal byReserve(Estimate reserve) {
        String carried = "Could carry " + Words.percent(reserve.value(), 0) + " of rated duty at rated approach, "
                + Words.fixed(100 * reserve.lower95(), 0) + " to "
                + Words.percent(reserve.upper95(), 0) + " with 95 % confidence";
        if (reserve.value() + ONE_SIDED_95 * reserve.standardUncertainty() < 1) {
            return judged(
                    UnitFunction.HEAT_TRANSFER, Ne107.OUT_OF_SPECIFICATION, carried + ": rated duty is out of reach.");
        }
        return reserve.value() - ONE_SIDED_95 * reserve.standardUncertainty() < 1
                ? judged(
                        UnitFunction.HEAT_TRANSFER,
                        Ne107.MAINTENANCE_REQUIRED,
                        carried + ": rated duty may be out of reach.")
                : judged(UnitFunction.HEAT_TRANSFER, Ne107.GOOD, carried + ".");
    }

    /**
     * Filtration: maintenance required once a filter is due by best estimate, out of specification once it is overdue with 95 %
     * confidence. A filter nears its end by plan, so nearness alone is no signal.
     *
     * @param reserve the {@code filtration-reserve} now
     */
    public static FunctionSignal filtration(IndicatorResult reserve) {
        return reserve.value()
                .fold(
                        r -> byTerminal(r, HydraulicSentences.filtration(reserve, r)),
                        gap -> notJudged(UnitFunction.FILTRATION, gap));
    }

    private static FunctionSignal byTerminal(Estimate reserve, String sentence) {
        String start = sentence.substring(0, sentence.length() - 1);
        if (reserve.value() + ONE_SIDED_95 * reserve.standardUncertainty() < 1) {
            return judged(UnitFunction.FILTRATION, Ne107.OUT_OF_SPECIFICATION, start + ": it is overdue for change.");
        }
        return reserve.value() < 1
                ? judged(UnitFunction.FILTRATION, Ne107.MAINTENANCE_REQUIRED, start + ": it is due for change.")
                : judged(UnitFunction.FILTRATION, Ne107.GOOD, sentence);
    }

    /**
     * Pumping: out of specification once the pumps that are needed cannot give rated flow with 95 % confidence.
     *
     * @param reserve the {@code pumping-reserve} now
     */
    public static FunctionSignal pumping(IndicatorResult reserve) {
        return reserve.value()
                .fold(
                        r -> byPromise(
                                UnitFunction.PUMPING,
                                r,
                                HydraulicSentences.pumping(reserve, r),
                                "rated flow is out of reach without help",
                                "rated flow may be out of reach without help"),
                        gap -> notJudged(UnitFunction.PUMPING, gap));
    }

    /**
     * Control: maintenance required while an actuator has nothing left, out of specification once its set point is missed with it.
     *
     * @param reserve the {@code control-reserve} now
     */
    public static FunctionSignal control(IndicatorResult reserve) {
        return reserve.value()
                .fold(
                        r -> {
                            String sentence = HydraulicSentences.control(reserve, r);
                            if (r.value() + ONE_SIDED_95 * r.standardUncertainty() < 1) {
                                return judged(UnitFunction.CONTROL, Ne107.OUT_OF_SPECIFICATION, sentence);
                            }
                            return judged(
                                    UnitFunction.CONTROL,
                                    r.value() <= 1 ? Ne107.MAINTENANCE_REQUIRED : Ne107.GOOD,
                                    sentence);
                        },
                        gap -> notJudged(UnitFunction.CONTROL, gap));
    }

    /**
     * Containment: out of specification while a leak is called, failure where it trips the pumps within an hour, maintenance required
     * from a suspicion of one in ten.
     */
    public static FunctionSignal containment(Computed<LeakSuspicion> leak) {
        return leak.flatMap(l -> l.probabilityKnown().map(p -> bySuspicion(l, p.value())))
                .fold(
                        signal -> signal,
                        gap -> new FunctionSignal(
                                UnitFunction.CONTAINMENT, Ne107.GOOD, false, "Cannot be judged now. " + gap.detail()));
    }

    private static FunctionSignal bySuspicion(LeakSuspicion leak, double probability) {
        String says =
                "A leak is " + (probability < 0.001 ? "less than 0.1 %" : Words.percent(probability, 1)) + " likely";
        String why =
                leak.evidence().isEmpty() ? "." : ". " + leak.evidence().get(0).sentence();
        boolean soon = leak.toLowLevelS().fold(e -> e.value() < PUMPS_TRIP_SOON_S, gap -> false);
        if (leak.called()) {
            return judged(UnitFunction.CONTAINMENT, soon ? Ne107.FAILURE : Ne107.OUT_OF_SPECIFICATION, says + why);
        }
        return judged(
                UnitFunction.CONTAINMENT,
                probability >= SUSPICIOUS ? Ne107.MAINTENANCE_REQUIRED : Ne107.GOOD,
                says + why);
    }

    private static FunctionSignal byPromise(
            UnitFunction function, Estimate reserve, String sentence, String gone, String perhaps) {
        String start = sentence.substring(0, sentence.length() - 1) + ": ";
        if (reserve.value() + ONE_SIDED_95 * reserve.standardUncertainty() < 1) {
            return judged(function, Ne107.OUT_OF_SPECIFICATION, start + gone + ".");
        }
        return reserve.value() - ONE_SIDED_95 * reserve.standardUncertainty() < 1
                ? judged(function, Ne107.MAINTENANCE_REQUIRED, start + perhaps + ".")
                : judged(function, Ne107.GOOD, sentence);
    }

    /** A unit may lack these points, and a broken sensor among them is no fault of the plant: without them nothing is said. */
    private static FunctionSignal notJudged(UnitFunction function, Computed.Unavailable<Estimate> gap) {
        return new FunctionSignal(function, Ne107.GOOD, false, "Cannot be judged now. " + gap.detail());
    }

    /**
     * Instruments: a heat balance open by more than the coverage in the settings asks for maintenance, by more than the refusal
     * limit the instruments are out of specification.
     *
     * @param closure the {@code heat-balance-closure} now
     */
    public static FunctionSignal instruments(Computed<Estimate> closure, IndicatorSettings settings) {
        return closure.fold(c -> byClosure(c, settings), gap -> unjudged(UnitFunction.INSTRUMENTS, gap));
    }

    private static FunctionSignal byClosure(Estimate closure, IndicatorSettings settings) {
        String sentence = Sentences.closure(closure, settings);
        Ne107 signal = Closure.within(closure, settings.closureCoverage())
                ? Ne107.GOOD
                : Closure.within(closure, settings.closureRefusal())
                        ? Ne107.MAINTENANCE_REQUIRED
                        : Ne107.OUT_OF_SPECIFICATION;
        return judged(UnitFunction.INSTRUMENTS, signal, sentence);
    }

    private static FunctionSignal judged(UnitFunction function, Ne107 signal, String reason) {
        return new FunctionSignal(function, signal, true, reason);
    }

    private static FunctionSignal unjudged(UnitFunction function, Computed.Unavailable<Estimate> gap) {
        return switch (gap.reason()) {
            case INPUT_MISSING, INPUT_STALE, INPUT_BAD, INPUT_IMPLAUSIBLE ->
                new FunctionSignal(function, Ne107.FAILURE, true, gap.detail());
            default -> new FunctionSignal(function, Ne107.GOOD, false, "Cannot be judged now. " + gap.detail());
        };
    }

    /** The unit's summary: the worst of its functions. */
    public static Ne107 worst(Collection<FunctionSignal> signals) {
        return signals.stream().map(FunctionSignal::signal).reduce(Ne107.GOOD, Ne107::worse);
    }
}
