package io.loopwarden.study;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/** {@code deploy/study leaks}: false alarms, delays and probabilities of the leak suspicion, held against loops whose truth is known. */
public final class LeakStudy {

    static final long DEFAULT_SEED = 20261125;

    /** How many trials of each kind. */
    record Size(double unitYears, double burstUnitYears, int delays, int calibration, int situations, int runLengths) {
        static final Size FULL = new Size(200, 0.5, 100, 4000, 40, 40_000);
        static final Size QUICK = new Size(4, 0.1, 16, 300, 6, 20_000);
    }

    private LeakStudy() {}

    public static void main(String[] args) throws IOException {
        StudyMain.main(
                args, "leaks", DEFAULT_SEED, (scenario, seed, quick) -> run(seed, quick ? Size.QUICK : Size.FULL));
    }

    static Report run(long seed, Size size) {
        List<Finding> findings = new ArrayList<>();
        findings.addAll(LeakFalseAlarms.run(seed, size.unitYears(), size.burstUnitYears()));
        findings.addAll(LeakDelays.run(seed, size.delays()));
        findings.addAll(LeakCalibration.run(seed, size.calibration()));
        findings.addAll(LeakSituations.run(seed, size.situations()));
        findings.addAll(RunLengths.run(seed, size.runLengths()));
        findings.add(ExpansionStudy.run());
        return new Report("leaks", seed, findings);
    }
}
