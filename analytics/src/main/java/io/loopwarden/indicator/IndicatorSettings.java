package io.loopwarden.indicator;

import io.loopwarden.exchanger.CleaningCosts;
import java.util.Objects;

/**
 * Limits and prior knowledge of the heat-transfer indicators. A prior is what holds for plate exchangers of this kind before
 * anything is learnt of the one unit; each comes with its standard uncertainty, which ends up in the figures.
 *
 * @param conductanceUncertaintyLimitRatio UA is accepted up to this relative standard uncertainty
 * @param closureCoverage the heat balance is within its band up to this many standard uncertainties
 * @param closureRefusal beyond this many, nothing that needs both sides is worked out
 * @param filmFlowExponent exponent m of film coefficient ∝ flow^m in plates (0.65 to 0.75 in the published correlations)
 * @param wallShareRatio share of plate wall in the clean thermal resistance at rated flows
 * @param filmAsymmetryRatio standard uncertainty of the ratio of FWS-side to TCS-side film resistance at equal flow and fluid
 * @param openFlowByDpRatio uncertainty of rated FWS flow scaled with the root of differential pressure
 * @param openFlowUnknownRatio uncertainty of FWS flow with the valve open where no differential pressure is known
 * @param valveOpenRatio from this position on, today's FWS flow is the flow with the valve open
 * @param cleaning what cleaning and not cleaning cost
 */
public record IndicatorSettings(
        double conductanceUncertaintyLimitRatio,
        double closureCoverage,
        double closureRefusal,
        double filmFlowExponent,
        double filmFlowExponentUncertainty,
        double wallShareRatio,
        double wallShareUncertainty,
        double filmAsymmetryRatio,
        double openFlowByDpRatio,
        double openFlowUnknownRatio,
        double valveOpenRatio,
        CleaningCosts cleaning) {

    public static final IndicatorSettings DEFAULT =
            new IndicatorSettings(0.05, 2, 3, 0.70, 0.03, 0.10, 0.05, 0.20, 0.03, 0.10, 0.97, CleaningCosts.DEFAULT);

    public IndicatorSettings {
        requireWithin("UA uncertainty limit", conductanceUncertaintyLimitRatio, 0.001, 1);
        requireWithin("closure coverage", closureCoverage, 1, 10);
        requireWithin("closure refusal", closureRefusal, closureCoverage, 100);
        requireWithin("film flow exponent", filmFlowExponent, 0.3, 1);
        requireWithin("uncertainty of the film flow exponent", filmFlowExponentUncertainty, 0, 0.3);
        requireWithin("wall share", wallShareRatio, 0, 0.5);
        requireWithin("uncertainty of the wall share", wallShareUncertainty, 0, 0.5);
        requireWithin("film asymmetry", filmAsymmetryRatio, 0, 0.8);
        requireWithin("open-valve flow uncertainty by differential pressure", openFlowByDpRatio, 0, 0.5);
        requireWithin("open-valve flow uncertainty without differential pressure", openFlowUnknownRatio, 0, 0.5);
        requireWithin("open valve position", valveOpenRatio, 0.5, 1);
        Objects.requireNonNull(cleaning, "cleaning");
    }

    /** The same with other costs of cleaning. */
    public IndicatorSettings withCleaning(CleaningCosts other) {
        return new IndicatorSettings(
                conductanceUncertaintyLimitRatio,
                closureCoverage,
                closureRefusal,
                filmFlowExponent,
                filmFlowExponentUncertainty,
                wallShareRatio,
                wallShareUncertainty,
                filmAsymmetryRatio,
                openFlowByDpRatio,
                openFlowUnknownRatio,
                valveOpenRatio,
                other);
    }

    private static void requireWithin(String name, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new IllegalArgumentException(name + " is " + value + ", must be " + least + " to " + most);
        }
    }
}
