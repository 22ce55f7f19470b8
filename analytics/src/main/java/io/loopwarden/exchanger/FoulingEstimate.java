package io.loopwarden.exchanger;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.List;

/**
 * How far an exchanger has moved from its clean model, at one window's flows and states.
 *
 * @param resistanceKPerW fouling resistance 1/UA - 1/UA_clean; below 0 by no more than its error if all is well
 * @param cleanResistanceKPerW 1/UA_clean at the same flows and states
 * @param imbalanceScore what is left of the imbalance of the duties over its standard deviation
 * @param errorPerParameter error of the fouling resistance per unit of error of each parameter of the model
 * @param noiseKPerW part of the error that this window alone brings
 */
public record FoulingEstimate(
        Estimate resistanceKPerW,
        Estimate cleanResistanceKPerW,
        double imbalanceScore,
        List<Double> errorPerParameter,
        double noiseKPerW) {

    public FoulingEstimate {
        errorPerParameter = List.copyOf(errorPerParameter);
    }

    /** UA over UA_clean at this window's flows; at a given fouling it falls as flow rises, so trend the resistance. */
    public Computed<Estimate> cleanlinessRatio() {
        double clean = cleanResistanceKPerW.value();
        double total = clean + resistanceKPerW.value();
        if (!(total > 0)) {
            return Computed.unavailable(
                    Reason.INPUT_IMPLAUSIBLE,
                    "fouling resistance " + resistanceKPerW.value() + " K/W is below minus the clean resistance "
                            + clean + " K/W");
        }
        double ratio = clean / total;
        // the error of the clean resistance moves both, in opposite senses: only the relative fouling counts
        return Computed.of(new Estimate(ratio, ratio * ratio * resistanceKPerW.standardUncertainty() / clean));
    }

    /** Fouling resistance of the surface, m2 K/W. */
    public Estimate surfaceResistanceM2KPerW(double plateAreaM2) {
        return new Estimate(resistanceKPerW.value() * plateAreaM2, resistanceKPerW.standardUncertainty() * plateAreaM2);
    }
}
