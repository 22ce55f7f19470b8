package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.NotFiniteException;
import java.util.ArrayList;
import java.util.List;

/** Every indicator there is; {@code INDICATORS.md} has a row for each. */
public final class Indicators {

    public static final List<Indicator> ALL = all(
            new Approach(),
            new TcsDuty(),
            new FwsDuty(),
            new Duty(),
            new HeatBalanceClosure(),
            new SensorAgreement(),
            new Ua(),
            new ApproachAtRatedDuty(),
            new ApproachAtDesignTemperature(),
            new DutyAtRatedApproach(),
            new HeatTransferReserve(),
            new FoulingResistance(),
            new Cleanliness(),
            new FilterDpAtRatedFlow(),
            new FiltrationReserve(),
            new PumpEfficiency(),
            new PumpAloneFlow(),
            new InternalLossAtRatedFlow(),
            new RackResistance(),
            new PumpingReserve(),
            new LoopDpError(),
            new ApproachError(),
            new ControlReserve());

    private Indicators() {}

    private static List<Indicator> all(Indicator... alone) {
        List<Indicator> all = new ArrayList<>(List.of(alone));
        all.addAll(FoulingFigures.ALL);
        all.addAll(LoopFigures.ALL);
        all.addAll(LeakFigure.ALL);
        all.add(Hunting.amplitude());
        all.add(Hunting.period());
        all.addAll(CoolantFigure.ALL);
        return List.copyOf(all);
    }

    /** What all of them say, in the order of {@link #ALL}. */
    public static List<IndicatorResult> evaluate(Evidence evidence) {
        List<IndicatorResult> results = new ArrayList<>(ALL.size());
        for (Indicator indicator : ALL) {
            results.add(evaluate(indicator, evidence));
        }
        return List.copyOf(results);
    }

    private static IndicatorResult evaluate(Indicator indicator, Evidence evidence) {
        Means window = switch (indicator.basis()) {
            case LATEST -> evidence.latest();
            case RECENT -> evidence.hydraulics().means();
            case STEADY -> evidence.steady().fold(steady -> steady, gap -> evidence.latest());
        };
        return new IndicatorResult(
                indicator.key(),
                indicator.function(),
                indicator.unit(),
                window.from(),
                window.to(),
                finite(indicator, evidence),
                indicator.subject(evidence));
    }

    /** Inputs that are each possible can together lead beyond every number; that is said and ends with this indicator. */
    private static Computed<Estimate> finite(Indicator indicator, Evidence evidence) {
        try {
            return indicator.evaluate(evidence);
        } catch (NotFiniteException e) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE, "Its inputs contradict each other: no finite figure follows from them.");
        }
    }
}
