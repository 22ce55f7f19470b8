package io.loopwarden.study;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** {@code deploy/study heat}: what the heat-transfer figures are worth, held against the truth of virtual units. */
public final class HeatStudy {

    static final long DEFAULT_SEED = 20261125;

    /** How many trials of each kind. */
    record Size(int unitMonths, int daysAMonth, int growths, int forecasts, int replayDays) {
        static final Size FULL = new Size(300, 30, 100, 200, 365);
        static final Size QUICK = new Size(30, 12, 12, 16, 20);
    }

    private HeatStudy() {}

    public static void main(String[] args) throws IOException {
        long seed = DEFAULT_SEED;
        Size size = Size.FULL;
        Path scenario = Path.of("sample-streams/scenario");
        Path out = Path.of("target/study/heat.json");
        for (int i = 0; i < args.length; i++) {
            switch (args[i]) {
                case "--seed" -> seed = Long.parseLong(args[++i]);
                case "--quick" -> size = Size.QUICK;
                case "--scenario" -> scenario = Path.of(args[++i]);
                case "--out" -> out = Path.of(args[++i]);
                default ->
                    throw new IllegalArgumentException(
                            "unknown option " + args[i] + "; known: --seed N, --quick, --scenario DIR, --out FILE");
            }
        }
        Report report = run(scenario, seed, size);
        report.print(System.out);
        report.write(out);
        System.out.println("written to " + out);
    }

    static Report run(Path scenario, long seed, Size size) {
        TrialUnits units = new TrialUnits(scenario);
        List<Finding> findings = new ArrayList<>();
        findings.addAll(new CoverageStudy(units, size.daysAMonth()).run(seed, size.unitMonths()));
        findings.addAll(new SensitivityStudy(units).run(seed, size.growths()));
        findings.addAll(new ForecastStudy(units).run(seed, size.forecasts()));
        findings.addAll(new CostStudy(units).run(seed, size.replayDays()));
        return new Report("heat", seed, findings);
    }
}
