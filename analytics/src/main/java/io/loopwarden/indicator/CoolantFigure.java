package io.loopwarden.indicator;

import io.loopwarden.fleet.OperatingLimits.Range;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.List;
import java.util.Optional;

/** State of the coolant where it is measured, or was measured by hand. */
final class CoolantFigure extends Figure {

    static final List<CoolantFigure> COOLANT = List.of(
            new CoolantFigure("coolant-conductivity", "S/m", Points.COOLANT_CONDUCTIVITY),
            new CoolantFigure("coolant-ph", "[pH]", Points.COOLANT_PH),
            new CoolantFigure("coolant-concentration", "1", Points.COOLANT_CONCENTRATION),
            new CoolantFigure("reservoir-level", "1", Points.RESERVOIR_LEVEL));

    static final List<Indicator> ALL = List.copyOf(COOLANT);

    private final PointName point;

    private CoolantFigure(String key, String unit, PointName point) {
        super(key, UnitFunction.COOLANT, unit, Basis.RECENT);
        this.point = point;
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Computed<Estimate> measured = evidence.hydraulics().means().of(point);
        if (measured.isAvailable() || point != Points.COOLANT_CONCENTRATION) {
            return measured;
        }
        return evidence.concentration()
                .map(Computed::of)
                .orElseGet(() -> Computed.unavailable(
                        Reason.INPUT_MISSING,
                        "No concentration was written in the log (reading of coolant.concentration)."));
    }

    /** What the nameplate allows. */
    Optional<Range> limits(Design design) {
        var limits = design.nameplate().limits();
        if (point == Points.COOLANT_CONDUCTIVITY) {
            return limits.conductivitySPerM();
        }
        if (point == Points.COOLANT_PH) {
            return limits.ph();
        }
        return point == Points.RESERVOIR_LEVEL ? limits.reservoirLevel() : limits.glycolMassFraction();
    }
}
