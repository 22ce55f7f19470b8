package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import org.junit.jupiter.api.Test;

class CleaningTest {

    /** Running cost r·t: the least of c/T + r·T/2 is at T = sqrt(2 c/r), with cost sqrt(2 c r), by calculus. */
    @Test
    void steadyGrowthHasTheClosedFormInterval() {
        CleaningInterval best = valueOf(CleaningInterval.best(age -> 0.02 * age, 100, 1000));
        assertThat(best.days()).isEqualTo(100);
        assertThat(best.costPerDay()).isCloseTo(2.0, withinPercentage(0.01));
    }

    /** With an asymptote: no other whole number of days within a year is cheaper, by trying them all. */
    @Test
    void asymptoticGrowthAgreesWithTryingEveryInterval() {
        CleaningInterval best = valueOf(CleaningInterval.best(age -> 3 * -Math.expm1(-age / 90), 60, 1000));
        int cheapest = 0;
        double least = Double.POSITIVE_INFINITY;
        double spent = 60;
        for (int day = 1; day <= 365; day++) {
            spent += 3 * -Math.expm1(-(day - 0.5) / 90);
            if (spent / day < least) {
                least = spent / day;
                cheapest = day;
            }
        }
        assertThat(best.days()).isEqualTo(cheapest);
        assertThat(best.costPerDay()).isCloseTo(least, withinPercentage(1e-9));
    }

    @Test
    void whatNeverPaysOrIsNotANumberIsAReason() {
        assertThat(reasonOf(CleaningInterval.best(age -> 0.01, 100, 1000))).isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reasonOf(CleaningInterval.best(age -> Double.NaN, 100, 1000)))
                .isEqualTo(Reason.INPUT_IMPLAUSIBLE);
        assertThat(reasonOf(CleaningInterval.best(age -> age, 0, 1000))).isEqualTo(Reason.INPUT_IMPLAUSIBLE);
    }

    /** Clean 4, before 1, after 0.2 ×1e-6 K/W: UA 250, 200 and 238.095 kW/K, so 38.095 of 50 came back. */
    @Test
    void cleaningThatBringsBackThreeQuarters() {
        CleaningEffect effect =
                valueOf(CleaningEffect.of(new Estimate(1e-6, 0.05e-6), new Estimate(0.2e-6, 0.05e-6), 4e-6));
        assertThat(effect.removedKPerW().value()).isCloseTo(0.8e-6, within(1e-15));
        assertThat(effect.conductanceRatio()).isCloseTo(238.0952381 / 200, within(1e-8));
        Estimate share = valueOf(effect.recoveredShare());
        assertThat(share.value()).isCloseTo(0.7619047619, within(1e-9));
        // by finite differences of the ratio of conductances
        assertThat(share.standardUncertainty()).isCloseTo(numericUncertainty(), withinPercentage(0.01));
    }

    private static double numericUncertainty() {
        double step = 1e-12;
        double perBefore = (share(1e-6 + step, 0.2e-6) - share(1e-6 - step, 0.2e-6)) / (2 * step);
        double perAfter = (share(1e-6, 0.2e-6 + step) - share(1e-6, 0.2e-6 - step)) / (2 * step);
        return 0.05e-6 * Math.hypot(perBefore, perAfter);
    }

    private static double share(double before, double after) {
        double uaBefore = 1 / (4e-6 + before);
        return (1 / (4e-6 + after) - uaBefore) / (1 / 4e-6 - uaBefore);
    }

    @Test
    void cleaningACleanExchangerHasNoShare() {
        CleaningEffect effect =
                valueOf(CleaningEffect.of(new Estimate(0.05e-6, 0.05e-6), new Estimate(0, 0.05e-6), 4e-6));
        assertThat(reasonOf(effect.recoveredShare())).isEqualTo(Reason.NOT_OBSERVABLE);
    }
}
