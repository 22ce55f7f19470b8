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
        try {
            study(args);
        } catch (IllegalArgumentException e) {
            System.err.println(e.getMessage());
            System.exit(2);
        }
    }

    private static void study(String[] args) throws IOException {
        long seed = DEFAULT_SEED;
        Size size = Size.FULL;
        Path scenario = Path.of("sample-streams/scenario");
        Path out = Path.of("target/study/heat.json");
        for (int i = 0; i < args.length; i++) {
            switch (args[i]) {
                case "--seed" -> seed = number(args, ++i);
                case "--quick" -> size = Size.QUICK;
                case "--scenario" -> scenario = Path.of(value(args, ++i));
                case "--out" -> out = Path.of(value(args, ++i));
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

    private static String value(String[] args, int i) {
        if (i >= args.length) {
            throw new IllegalArgumentException(args[i - 1] + " needs a value");
        }
        return args[i];
    }

    private static long number(String[] args, int i) {
        String text = value(args, i);
        try {
            return Long.parseLong(text);
        } catch (NumberFormatException e) {
            throw new IllegalArgumentException(args[i - 1] + " is '" + text + "', must be a whole number", e);
        }
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
