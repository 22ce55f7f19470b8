package io.loopwarden.indicator;

import io.loopwarden.fleet.Points;
import io.loopwarden.hydraulics.HydraulicPower;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.List;

/** Wire-to-water efficiency of the running pumps: hydraulic over electric power. */
final class PumpEfficiency extends Figure {

    /** No unit's pumps take that much; a number above it has a wrong unit. */
    private static final double MOST_W = 1e7;

    PumpEfficiency() {
        super("pump-efficiency", UnitFunction.PUMPING, "1", Basis.RECENT);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        Hydraulics hydraulics = evidence.hydraulics();
        return hydraulics
                .running()
                .flatMap(running -> hydraulics
                        .flow()
                        .flatMap(q -> running.dp()
                                .flatMap(dp -> power(hydraulics.means(), running)
                                        .flatMap(power -> Propagation.figure(
                                                x -> HydraulicPower.efficiencyRatio(x[0], x[1], x[2]),
                                                dp,
                                                q,
                                                power)))));
    }

    private static Computed<Estimate> power(Means means, RunningPumps running) {
        List<Computed<Estimate>> each = new ArrayList<>(running.count());
        for (int n : running.numbers()) {
            each.add(means.of(Points.numbered("pump.{n}.power", n)));
        }
        return Computed.all(each).flatMap(all -> {
            double totalW = all.stream().mapToDouble(Estimate::value).sum();
            return totalW > 0 && totalW < MOST_W
                    ? Computed.of(new Estimate(totalW, HydraulicPriors.POWER_UNCERTAINTY_RATIO * totalW))
                    : Computed.unavailable(
                            Reason.INPUT_IMPLAUSIBLE, "The running pumps report " + totalW + " W of power.");
        });
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.hydraulics().running().fold(RunningPumps::words, gap -> "");
    }
}
