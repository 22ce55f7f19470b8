package io.loopwarden.study;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** {@code deploy/study hydraulics}: filters, pumps, control and instruments, held against the truth of virtual units. */
public final class HydraulicsStudy {

    static final long DEFAULT_SEED = 20261126;

    /**
     * How many trials of each kind.
     *
     * @param drifts trials for each of six sensors
     * @param wellDays days of each of so many units without a drift
     * @param hours of each of so many units that follow their load
     * @param stuckDays days of each of so many units with samples every ten seconds
     */
    record Size(
            int filters,
            int pumps,
            int drifts,
            int wellUnits,
            int wellDays,
            int hunts,
            int followers,
            int hours,
            int stuck,
            int stuckUnits,
            int stuckDays,
            int names) {
        static final Size FULL = new Size(30, 30, 10, 40, 98, 40, 12, 24, 80, 24, 10, 20);
        static final Size QUICK = new Size(4, 4, 2, 4, 30, 6, 2, 8, 10, 2, 2, 2);
    }

    private HydraulicsStudy() {}

    public static void main(String[] args) throws IOException {
        StudyMain.main(
                args,
                "hydraulics",
                DEFAULT_SEED,
                (scenario, seed, quick) -> run(scenario, seed, quick ? Size.QUICK : Size.FULL));
    }

    static Report run(Path scenario, long seed, Size size) {
        TrialUnits units = new TrialUnits(scenario);
        List<Finding> findings = new ArrayList<>();
        findings.addAll(new FilterStudy(units).run(seed, size.filters()));
        findings.addAll(new PumpStudy(units).run(seed, size.pumps()));
        findings.addAll(new HuntingStudy(units).run(seed, size.hunts(), size.followers(), size.hours()));
        findings.addAll(new StuckStudy(units).run(seed, size.stuck(), size.stuckUnits(), size.stuckDays()));
        findings.addAll(new DriftStudy(units).run(seed, size.drifts(), size.wellUnits(), size.wellDays()));
        findings.addAll(new NamesStudy(units).run(seed, size.names()));
        return new Report("hydraulics", seed, findings);
    }
}
