package io.loopwarden.alarm;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.statistics.Estimate;
import java.util.Objects;
import java.util.Optional;
import org.hipparchus.special.Erf;

/**
 * An indicator beyond a limit with a given confidence; 0.5 means by best estimate. Also for probabilities and days to a limit, which are
 * indicators like any other.
 *
 * @param confidence probability, under a normal distribution with the figure's standard uncertainty, that it truly is beyond
 */
public record FigureCondition(String indicator, Limit limit, double confidence) implements Condition {

    public FigureCondition {
        Objects.requireNonNull(indicator, "indicator");
        Objects.requireNonNull(limit, "limit");
        if (!(confidence >= 0.5 && confidence < 1)) {
            throw new IllegalArgumentException("confidence " + confidence + " is not in 0.5 to 1");
        }
    }

    @Override
    public boolean concerns(Facts facts) {
        return facts instanceof Facts.OfUnit;
    }

    @Override
    public Verdict judge(Facts facts) {
        Facts.OfUnit unit = (Facts.OfUnit) facts;
        Optional<IndicatorResult> result = unit.figures().result(indicator);
        if (result.isEmpty()) {
            return new Verdict(Verdict.Kind.UNKNOWN, indicator + " is not computed");
        }
        return result.get()
                .value()
                .fold(
                        estimate -> judge(estimate, unit.unit().nameplate(), result.get()),
                        gap -> new Verdict(Verdict.Kind.UNKNOWN, gap.detail()));
    }

    private Verdict judge(Estimate estimate, Nameplate nameplate, IndicatorResult result) {
        String subject = result.subject().isEmpty() ? "" : ", " + result.subject();
        String unit = result.unit().equals("1") ? "" : " " + result.unit();
        String sentence = indicator + " is " + Condition.text(estimate.value()) + " ± "
                + Condition.text(Estimate.K95 * estimate.standardUncertainty()) + unit + subject + "; limit "
                + limit.words() + " " + Condition.text(limit.of(nameplate)) + unit;
        return new Verdict(judge(estimate, nameplate), sentence);
    }

    /** The same for a figure of the past. */
    public Verdict.Kind judge(Estimate estimate, Nameplate nameplate) {
        double excess = limit.excess(estimate.value(), nameplate);
        if (probabilityAbove(excess, estimate.standardUncertainty()) >= confidence) {
            return Verdict.Kind.BEYOND;
        }
        return excess <= -limit.deadband() || limit.deadband() == 0 ? Verdict.Kind.GOOD : Verdict.Kind.WITHIN_DEADBAND;
    }

    private static double probabilityAbove(double excess, double u) {
        if (u == 0) {
            return excess > 0 ? 1 : 0;
        }
        return 0.5 * Erf.erfc(-excess / (u * Math.sqrt(2)));
    }

    @Override
    public String words() {
        String sure = confidence > 0.5 ? " with " + Condition.text(100 * confidence) + " % confidence" : "";
        return indicator + " " + limit.words() + " " + Condition.text(limit.value())
                + limit.over().map(name -> " over " + name).orElse("") + sure;
    }
}
