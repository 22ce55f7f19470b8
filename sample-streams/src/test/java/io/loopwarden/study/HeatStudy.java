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
        StudyMain.main(
                args,
                "heat",
                DEFAULT_SEED,
                (scenario, seed, quick) -> run(scenario, seed, quick ? Size.QUICK : Size.FULL));
    }

    static Report run(Path scenario, long seed, Size size) {
        TrialUnits units = new TrialUnits(scenario);
        List<Finding> findings = new ArrayList<>();
        List<Picture> pictures = new ArrayList<>();
        CoverageStudy coverage = new CoverageStudy(units, size.daysAMonth());
        findings.addAll(coverage.run(seed, size.unitMonths()));
        SensitivityStudy sensitivity = new SensitivityStudy(units);
        findings.addAll(sensitivity.run(seed, size.growths()));
        ForecastStudy forecast = new ForecastStudy(units);
        findings.addAll(forecast.run(seed, size.forecasts()));
        findings.addAll(new CostStudy(units).run(seed, size.replayDays()));
        pictures.add(coverage.picture());
        pictures.add(sensitivity.picture());
        pictures.add(forecast.picture());
        return new Report("heat", seed, findings, pictures);
    }
}
