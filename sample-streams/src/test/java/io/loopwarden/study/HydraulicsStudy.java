package io.loopwarden.study;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** {@code deploy/study hydraulics}: filters, pumps, control, instruments and availability, held against the truth. */
public final class HydraulicsStudy {

    static final long DEFAULT_SEED = 20261126;

    /** How many trials of each kind. */
    record Size(int filters, int pumps) {
        static final Size FULL = new Size(40, 40);
        static final Size QUICK = new Size(4, 4);
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
        return new Report("hydraulics", seed, findings);
    }
}
