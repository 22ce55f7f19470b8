package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;

/** Flow at full speed, as many pumps running as are needed, at the promised head over rated flow: 1 is exactly what was promised. */
final class PumpingReserve implements Indicator {

    @Override
    public String key() {
        return "pumping-reserve";
    }

    @Override
    public UnitFunction function() {
        return UnitFunction.PUMPING;
    }

    @Override
    public String unit() {
        return "1";
    }

    @Override
    public Basis basis() {
        return Basis.RECENT;
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
