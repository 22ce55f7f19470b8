package io.loopwarden.indicator;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Points;
import io.loopwarden.hydraulics.PumpCurve;
import io.loopwarden.indicator.PumpRecord.Seen;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * What as many pumps as are needed could do at full speed, by today's point of the running ones and the affinity laws.
 *
 * <p>The reserve asks for the racks as the nameplate promises them, since racks that throttle would look like wear; inside the unit
 * its losses of today count. The curve's shape is a prior that matters little, since today's point carried to full speed lies near
 * rated flow.
 *
 * @param reserve flow into racks that take the promised pressure at rated flow, over rated flow; of the least pump that is known
 * @param subject which pump that is; after a semicolon, which ones are not known
 * @param record what is remembered from now on
 */
record PumpBank(Estimate reserve, String subject, PumpRecord record) {

    static Computed<PumpBank> of(Hydraulics hydraulics, PumpRecord remembered) {
        return hydraulics
                .running()
                .flatMap(running -> hydraulics
                        .flow()
                        .flatMap(q -> hydraulics
                                .means()
                                .of(Points.TCS_DP)
                                .flatMap(racks -> reserve(hydraulics.design().nameplate(), running, q, racks)
                                        .map(now -> leastOf(hydraulics, running, now, remembered)))));
    }

    private static Computed<Estimate> reserve(Nameplate n, RunningPumps running, Estimate q, Estimate racks) {
        double rated = n.ratedTcsFlowM3PerS();
        Estimate internal = running.dp().fold(dp -> dp, gap -> HydraulicPriors.INTERNAL_LOSS_RATIO);
        boolean measured = running.dp().isAvailable();
        return Propagation.figure(
                x -> {
                    double ratio = x[0] / rated;
                    double lossAtRated = measured ? (x[2] - x[1]) / (ratio * ratio) : x[2] * n.availableHeadPa();
                    double pumpPa = x[1] + lossAtRated * ratio * ratio;
                    return flowRatio(n, running.count(), x[0], pumpPa, x[3], x[4], lossAtRated);
                },
                q,
                racks,
                internal,
                running.speed(),
                HydraulicPriors.SHUT_OFF_RATIO);
    }

    private static double flowRatio(
            Nameplate n, int running, double flow, double pumpPa, double speed, double shape, double lossAtRatedPa) {
        double rated = n.ratedTcsFlowM3PerS();
        int needed = n.pumpsNeeded();
        double systemPa = n.availableHeadPa() + lossAtRatedPa;
        double ratio = flow / running / speed / (rated / needed);
        boolean possible = pumpPa > 0 && systemPa > 0 && shape > 1 && shape - (shape - 1) * ratio * ratio > 0;
        if (!possible) {
            return Double.NaN;
        }
        PumpCurve one = PumpCurve.through(pumpPa, flow / running, speed, shape, rated / needed);
        PumpCurve all = new PumpCurve(one.shutOffPa(), one.curvaturePaS2PerM6() / needed / needed);
        return all.operatingFlowM3PerS(1, 0, systemPa / (rated * rated)) / rated;
    }

    private static PumpBank leastOf(Hydraulics hydraulics, RunningPumps running, Estimate now, PumpRecord remembered) {
        PumpRecord record = remembered;
        if (running.count() == 1) {
            record = remembered.with(
                    running.numbers().get(0), new Seen(now, hydraulics.means().to()));
        }
        Estimate least = now;
        String subject = running.words();
        for (Map.Entry<Integer, Seen> other : record.byNumber().entrySet()) {
            Seen seen = other.getValue();
            boolean stands = !running.numbers().contains(other.getKey());
            if (stands && seen.reserve().value() < least.value()) {
                least = seen.reserve();
                subject = "pump " + other.getKey() + ", as it last ran at " + seen.at();
            }
        }
        return new PumpBank(least, subject + unseen(hydraulics, running, record), record);
    }

    private static String unseen(Hydraulics hydraulics, RunningPumps running, PumpRecord record) {
        List<Integer> never = new ArrayList<>();
        for (int n = 1; n <= hydraulics.design().nameplate().pumps(); n++) {
            if (!running.numbers().contains(n) && !record.byNumber().containsKey(n)) {
                never.add(n);
            }
        }
        if (never.isEmpty()) {
            return "";
        }
        String numbers = never.toString().replaceAll("[\\[\\]]", "");
        return "; pump" + (never.size() == 1 ? " " : "s ") + numbers + (never.size() == 1 ? " has" : " have")
                + " not been seen running";
    }
}
