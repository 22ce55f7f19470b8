package io.loopwarden.statistics;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.Computed.Reason;
import java.util.OptionalInt;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ReconciliationTest {

    private static final double[][] SPLIT = {{1, -1, -1}};
    private static final Covariance METERS = Covariance.independent(0.5, 0.4, 0.3);

    /** A flow that splits in two, worked by hand. */
    @Test
    void flowSplitCloses() {
        Reconciliation r = valueOf(Reconciliation.linear(new double[] {100.4, 60.5, 38.9}, METERS, SPLIT));
        assertThat(r.chiSquare()).isCloseTo(2, within(1e-9));
        assertThat(r.consistentAt(0.05)).isTrue();
        assertThat(r.values().get(0)).isCloseTo(99.9, within(1e-9));
        assertThat(r.values().get(1)).isCloseTo(60.82, within(1e-9));
        assertThat(r.values().get(2)).isCloseTo(39.08, within(1e-9));
        assertThat(r.covariance().variance(SPLIT[0])).isCloseTo(0, within(1e-12));
    }

    /** One balance shows that something is wrong, not what. */
    @Test
    void oneBalanceNamesNobody() {
        Reconciliation r = valueOf(Reconciliation.linear(new double[] {102.4, 60.5, 38.9}, METERS, SPLIT));
        assertThat(r.chiSquare()).isCloseTo(18, within(1e-9));
        assertThat(r.consistentAt(0.05)).isFalse();
        assertThat(r.standardisedAdjustments().get(0)).isCloseTo(4.2426, within(0.00005));
        assertThat(r.standardisedAdjustments().get(1)).isCloseTo(-4.2426, within(0.00005));
        assertThat(r.standardisedAdjustments().get(2)).isCloseTo(-4.2426, within(0.00005));
        assertThat(r.suspect()).isEqualTo(OptionalInt.empty());
    }

    /** Two balances share the first meter alone: it is the one. */
    @Test
    void twoBalancesNameTheMeterTheyShare() {
        double[][] balances = {{1, -1, -1, 0, 0}, {1, 0, 0, -1, -1}};
        Covariance meters = Covariance.independent(0.4, 0.4, 0.4, 0.4, 0.4);
        Reconciliation r = valueOf(Reconciliation.linear(new double[] {103, 60.1, 39.8, 50.2, 49.9}, meters, balances));
        assertThat(r.consistentAt(0.05)).isFalse();
        assertThat(r.suspect()).isEqualTo(OptionalInt.of(0));
    }

    /** Two duties of one exchanger, weighted: 1000 ± 12 and 980 ± 20 kW give 994.706 ± 10.290 kW, chi-square 0.7353. */
    @Test
    void weightedDuty() {
        Reconciliation r = valueOf(Reconciliation.linear(
                new double[] {1000, 980}, Covariance.independent(12, 20), new double[][] {{1, -1}}));
        assertThat(r.values().get(0)).isCloseTo(994.706, within(0.0005));
        assertThat(r.covariance().standardUncertainty(0)).isCloseTo(10.290, within(0.0005));
        assertThat(r.chiSquare()).isCloseTo(0.7353, within(0.00005));
        assertThat(r.pValue()).isCloseTo(0.3912, within(0.0001));
    }

    @ParameterizedTest
    @CsvSource({
        "1, 3.8415, 6.6349",
        "2, 5.9915, 9.2103",
        "3, 7.8147, 11.3449",
        "4, 9.4877, 13.2767",
        "5, 11.0705, 15.0863"
    })
    void limitsAreThoseOfTheTables(int degrees, double at95, double at99) {
        ChiSquaredDistribution d = new ChiSquaredDistribution(degrees);
        assertThat(d.inverseCumulativeProbability(0.95)).isCloseTo(at95, within(0.00005));
        assertThat(d.inverseCumulativeProbability(0.99)).isCloseTo(at99, within(0.00005));
    }

    /** x·y = z from 2, 3 and 6.3 with equal errors; checked by its conditions: the balance and the gradient along it. */
    @Test
    void productBalance() {
        double[] measured = {2, 3, 6.3};
        Reconciliation r = valueOf(Reconciliation.of(
                measured,
                Covariance.independent(0.1, 0.1, 0.1),
                x -> new Reconciliation.Residual(
                        new double[] {x[0] * x[1] - x[2]}, new double[][] {{x[1], x[0], -1}})));
        double x = r.values().get(0);
        double y = r.values().get(1);
        double z = r.values().get(2);
        assertThat(x * y).isCloseTo(z, within(1e-9));
        double multiplier = z - 6.3;
        assertThat(x - 2).isCloseTo(-multiplier * y, within(1e-6));
        assertThat(y - 3).isCloseTo(-multiplier * x, within(1e-6));
    }

    @Test
    void dependentBalancesAreAReason() {
        double[][] twice = {{1, -1, -1}, {2, -2, -2}};
        assertThat(reasonOf(Reconciliation.linear(new double[] {100, 60, 39}, METERS, twice)))
                .isEqualTo(Reason.NOT_OBSERVABLE);
        assertThat(reasonOf(Reconciliation.linear(new double[] {100, 60, 39}, Covariance.independent(0, 0, 0), SPLIT)))
                .isEqualTo(Reason.NOT_OBSERVABLE);
    }
}
