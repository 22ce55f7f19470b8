package io.loopwarden.study;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.study.HeatStudy.Size;
import io.loopwarden.study.SensitivityStudy.Growth;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
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

    /** The virtual exchangers narrow on the FWS side as deposits grow. */
    @Test
    void differentialPressureTellsWhichSideFouls() {
        TrialUnits.Trial trial = new TrialUnits(SCENARIO).partLoad(new Random(11));
        List<PointName> pressures = IntStream.rangeClosed(1, trial.nameplate().exchangers())
                .boxed()
                .flatMap(n -> Stream.of(
                        Points.numbered("exchanger.{n}.tcs.dp", n), Points.numbered("exchanger.{n}.fws.dp", n)))
                .toList();
        WatchedUnit watched = new WatchedUnit(trial, pressures);
        hours(watched, 6 * 24);
        double area = trial.nameplate().plateAreaM2().orElseThrow();
        double clean = 1 / watched.unit().truth().cleanUaWPerK();
        watched.unit().addFault(TrialUnits.linear(watched.unit().now(), 0.02 * clean * area));
        WatchedUnit.Hour last = hours(watched, 8 * 24);
        assertThat(last.figures().result("fouling-resistance").orElseThrow().subject())
                .isEqualTo("FWS side, by its differential pressure");
        double growth = last.of("exchanger-fws-dp-growth").<Double>fold(e -> e.value(), gap -> 0.0);
        assertThat(growth).isGreaterThan(0.03);
        assertThat(last.of("fouling-pumping-energy").isAvailable()).isTrue();
    }

    private static WatchedUnit.Hour hours(WatchedUnit watched, int hours) {
        WatchedUnit.Hour last = null;
        for (int hour = 0; hour < hours; hour++) {
            last = watched.nextHour();
        }
        return last;
    }

    @Test
    void theSameSeedGivesTheSameFigures() {
        TrialUnits units = new TrialUnits(SCENARIO);
        assertThat(new CoverageStudy(units, 2).run(3, 2)).isEqualTo(new CoverageStudy(units, 2).run(3, 2));
    }
}
