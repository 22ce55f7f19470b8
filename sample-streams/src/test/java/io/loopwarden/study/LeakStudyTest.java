package io.loopwarden.study;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.study.LeakStudy.Size;
import org.junit.jupiter.api.Test;

/** A small version of the study; what it prints beyond what it asserts is for people. */
class LeakStudyTest {

    private static final Size SMALL = new Size(1.5, 0.01, 6, 60, 2, 4000);

    @Test
    void whatHoldsInTheFullStudyHoldsInASmallOne() {
        Report report = LeakStudy.run(LeakStudy.DEFAULT_SEED, SMALL);
        report.print(System.out);
        assertThat(report.findings())
                .filteredOn(f -> f.what().startsWith("false alarms of the content"))
                .singleElement()
                .satisfies(f -> assertThat(f.figure()).isZero());
        // few trials: twice the goal for delays and calibration, all else as in the full study
        assertThat(report.finding("delay of 20 L/h, level alone, 10 s: mean").figure())
                .isLessThan(600);
        assertThat(report.finding("delay of 0.10 L/h, level alone, 1 min: mean").figure())
                .isLessThan(86400);
        assertThat(report.finding("delay of 1000 L/h, both flow meters, 1 s: mean")
                        .figure())
                .isLessThan(10);
        assertThat(report.finding("calibration: expected calibration error, 10 bins")
                        .figure())
                .isLessThan(0.2);
        assertThat(report.findings())
                .filteredOn(f ->
                        f.what().startsWith("leaks called because") || f.what().startsWith("called: 20 L"))
                .hasSize(6)
                .allSatisfy(f -> assertThat(f.figure()).as(f.what()).isZero());
    }
}
