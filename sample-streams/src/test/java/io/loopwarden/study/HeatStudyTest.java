package io.loopwarden.study;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.study.HeatStudy.Size;
import io.loopwarden.study.SensitivityStudy.Growth;
import java.nio.file.Path;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** A small version of the study; what it prints beyond what it asserts is for people. */
class HeatStudyTest {

    private static final Path SCENARIO = Path.of("scenario");
    private static final Size SMALL = new Size(8, 8, 4, 4, 10);

    @Test
    void whatHoldsInTheFullStudyHoldsInASmallOne() {
        Report report = HeatStudy.run(SCENARIO, HeatStudy.DEFAULT_SEED, SMALL);
        report.print(System.out);
        assertThat(report.pictures()).hasSize(3);
        assertThat(ReportPage.html(report))
                .contains("Calibration of the forecast", "<svg", "coverage: truth in the 95 % interval of ua")
                .doesNotContain("NaN", "http");
        // few units: bands are wider than the goals by three standard errors of the full study's spread between units
        assertThat(report.finding(CoverageStudy.coverageOf("fouling-resistance"))
                        .figure())
                .isBetween(88.0, 99.9);
        assertThat(report.finding("5 % of UA in 14 days: called within 7 days").holds())
                .isTrue();
        assertThat(report.finding("3 % of UA in 14 days: called within 14 days").holds())
                .isTrue();
        assertThat(report.finding("false calls in 14 clean days: fouling").figure())
                .isZero();
        assertThat(report.findings())
                .filteredOn(f -> f.what().startsWith("false calls, of"))
                .singleElement()
                .satisfies(f -> assertThat(f.figure()).isZero());
    }

    @Test
    void foulingIsFoundThoughTheControllerHoldsTheApproachFlat() {
        Growth growth = new SensitivityStudy(new TrialUnits(SCENARIO)).growth(0.05, new Random(7));
        assertThat(growth.approachMovedK())
                .as("move of the shown approach, daily means")
                .isLessThan(0.02);
        assertThat(growth.calledOnDay()).as("day of the call").isBetween(1, 7);
    }

    @Test
    void theSameSeedGivesTheSameFigures() {
        TrialUnits units = new TrialUnits(SCENARIO);
        assertThat(new CoverageStudy(units, 2).run(3, 2)).isEqualTo(new CoverageStudy(units, 2).run(3, 2));
    }
}
