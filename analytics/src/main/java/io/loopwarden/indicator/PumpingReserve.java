package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Flow at full speed, as many pumps running as are needed, at the promised head over rated flow: 1 is exactly what was promised. */
final class PumpingReserve extends Figure {

    PumpingReserve() {
        super("pumping-reserve", UnitFunction.PUMPING, "1", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.hydraulics().pumps().map(PumpBank::reserve);
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.hydraulics().pumps().fold(PumpBank::subject, gap -> "");
    }
}
