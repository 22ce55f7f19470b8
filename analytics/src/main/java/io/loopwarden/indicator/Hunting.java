package io.loopwarden.indicator;

import io.loopwarden.control.ControlState;
import io.loopwarden.control.Oscillation;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.function.ToDoubleFunction;

/** Amplitude or period of the actuator that hunts. */
final class Hunting extends Figure {

    /** An amplitude or period as the spectrum of a few periods gives it. */
    private static final double RATIO = 0.05;

    private final ToDoubleFunction<Oscillation> value;

    private Hunting(String key, String unit, ToDoubleFunction<Oscillation> value) {
        super(key, UnitFunction.CONTROL, unit, Basis.RECENT);
        this.value = value;
    }

    static Hunting amplitude() {
        return new Hunting("hunting-amplitude", "1", Oscillation::amplitude);
    }

    static Hunting period() {
        return new Hunting("hunting-period", "s", Oscillation::periodS);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        ControlState control = evidence.control();
        if (!control.covered()) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING, "Valve and pump speed have not been followed for eight minutes yet.");
        }
        return control.worst()
                .map(o -> Computed.of(new Estimate(value.applyAsDouble(o), RATIO * value.applyAsDouble(o))))
                .orElseGet(() -> Computed.unavailable(
                        Reason.NOT_OBSERVABLE, "Neither facility valve nor pump speed oscillates regularly."));
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.control().words();
    }
}
