package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** How much more the tighter actuator could give than it gives now: 1 has nothing left, below 1 its set point is missed. */
final class ControlReserve extends Figure {

    ControlReserve() {
        super("control-reserve", UnitFunction.CONTROL, "1", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return Actuators.of(evidence).map(Actuators::left);
    }

    @Override
    public String subject(Evidence evidence) {
        return Actuators.of(evidence).fold(Actuators::subject, gap -> "");
    }
}
