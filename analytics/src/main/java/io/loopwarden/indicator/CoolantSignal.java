package io.loopwarden.indicator;

import io.loopwarden.fleet.OperatingLimits.Range;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Coolant: out of specification where a measured state lies outside what the nameplate allows. */
public final class CoolantSignal {

    private CoolantSignal() {}

    /** Empty where the nameplate sets no limit to anything that is measured. */
    public static Optional<FunctionSignal> of(Design design, List<IndicatorResult> results) {
        List<String> outside = new ArrayList<>();
        List<String> inside = new ArrayList<>();
        for (CoolantFigure figure : CoolantFigure.COOLANT) {
            Optional<Range> limits = figure.limits(design);
            for (IndicatorResult result : results) {
                if (limits.isPresent() && result.key().equals(figure.key())) {
                    result.value()
                            .map(e -> isInside(e, limits.get())
                                    ? inside.add(words(figure.key(), e))
                                    : outside.add(words(figure.key(), e) + ", allowed are "
                                            + (float) limits.get().least() + " to "
                                            + (float) limits.get().most()));
                }
            }
        }
        if (!outside.isEmpty()) {
            return Optional.of(
                    new FunctionSignal(UnitFunction.COOLANT, Ne107.OUT_OF_SPECIFICATION, true, sentence(outside)));
        }
        return inside.isEmpty()
                ? Optional.empty()
                : Optional.of(new FunctionSignal(UnitFunction.COOLANT, Ne107.GOOD, true, sentence(inside)));
    }

    private static boolean isInside(Estimate e, Range limits) {
        return e.value() >= limits.least() && e.value() <= limits.most();
    }

    private static String words(String key, Estimate e) {
        return key.replace('-', ' ').replace("ph", "pH") + " is " + (float) e.value();
    }

    private static String sentence(List<String> parts) {
        return Words.capital(String.join("; ", parts)) + ".";
    }
}
