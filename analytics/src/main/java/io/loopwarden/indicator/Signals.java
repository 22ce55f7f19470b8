package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.Collection;

/** From figures to the status signals of NAMUR NE 107. */
public final class Signals {

    /** Coverage factor for 95 % on one side under a normal distribution. */
    private static final double ONE_SIDED_95 = 1.6448536269514722;

    private Signals() {}

    /**
     * Heat transfer: out of specification once rated duty is out of reach with 95 % confidence (one-sided), maintenance required
     * while it is not within reach with that confidence, failure where the instruments leave nothing to judge by.
     *
     * @param reserve the {@code heat-transfer-reserve} now
     */
    public static FunctionSignal heatTransfer(Computed<Estimate> reserve) {
        return reserve.fold(Signals::byReserve, gap -> unjudged(UnitFunction.HEAT_TRANSFER, gap));
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
