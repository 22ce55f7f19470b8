package io.loopwarden.indicator;

import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.Optional;

/** The loop of one unit over the last two minutes: filters and pumps, each worked out once. For one evaluation and one thread. */
final class Hydraulics {

    private final Design design;
    private final Means means;
    private final PumpRecord remembered;
    private Computed<FilterBank> filters;
    private Computed<RunningPumps> running;
    private Computed<PumpBank> pumps;

    Hydraulics(Design design, Means means, PumpRecord remembered) {
        this.design = design;
        this.means = means;
        this.remembered = remembered;
    }

    Design design() {
        return design;
    }

    Means means() {
        return means;
    }

    /** TCS flow, large enough for pressures to say something. */
    Computed<Estimate> flow() {
        double ratedM3PerS = design.nameplate().ratedTcsFlowM3PerS();
        return Side.TCS
                .runningFlow(design, means)
                .flatMap(q -> q.value() >= HydraulicPriors.LEAST_FLOW_RATIO * ratedM3PerS
                        ? Computed.of(q)
                        : Computed.unavailable(
                                Reason.NOT_OBSERVABLE,
                                Points.TCS_FLOW + " is " + Words.litresPerSecond(q.value())
                                        + "; pressures say something from "
                                        + Words.litresPerSecond(HydraulicPriors.LEAST_FLOW_RATIO * ratedM3PerS)
                                        + " on."));
    }

    Computed<FilterBank> filters() {
        if (filters == null) {
            filters = FilterBank.of(this);
        }
        return filters;
    }

    Computed<RunningPumps> running() {
        if (running == null) {
            running = RunningPumps.of(this);
        }
        return running;
    }

    Computed<PumpBank> pumps() {
        if (pumps == null) {
            pumps = PumpBank.of(this, remembered);
        }
        return pumps;
    }

    /** What a pump could do when it last ran without help. */
    Optional<Estimate> remembers(int number) {
        return Optional.ofNullable(remembered.byNumber().get(number)).map(PumpRecord.Seen::reserve);
    }

    PumpRecord pumpsSeen() {
        return pumps().fold(PumpBank::record, gap -> remembered);
    }
}
