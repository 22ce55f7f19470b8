package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.detailOf;
import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.exchanger.Exchanger.Reconciled;
import io.loopwarden.exchanger.Exchanger.Sensitive;
import io.loopwarden.exchanger.Stream.Meter;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.Estimate;
import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ConductanceUncertaintyTest {

    private static final Stream WATER = new Stream(Coolant.of(CoolantSpec.WATER), Meter.AT_INLET);
    private static final Exchanger EXCHANGER = new Exchanger(WATER, WATER);
    private static final SensorClass CLASS_A = SensorClass.DEFAULT;
    private static final SensorClass CALIBRATED = new SensorClass(0.03 * Math.sqrt(3), 0, 0.005, 0);

    /** Without the errors of the properties, which the table below leaves out. */
    private static Covariance sensorsOnly(ExchangerState s, SensorClass sensors) {
        Covariance all = EXCHANGER.uncertainty(s, sensors);
        double[] u = new double[ExchangerState.SIZE];
        for (int i = 0; i < ExchangerState.HOT_CAPACITY; i++) {
            u[i] = all.standardUncertainty(i);
        }
        return Covariance.independent(u);
    }

    /** Equal capacity rates, so that both ends of the exchanger see the approach. */
    private static ExchangerState balanced(double rangeK, double approachK) {
        return new ExchangerState(0.024, 0.024, 30 + approachK + rangeK, 30 + approachK, 30, 30 + rangeK);
    }

    /**
     * First order uncertainty of UA from the hot side, worked independently for constant specific heat. Tolerance 0.02
     * percentage points: half the last digit, and the specific heat that here depends on temperature.
     */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # range K, approach K, class A %, calibrated %
            10.0, 4.00, 3.68,  0.91
            5.0,  2.00, 7.14,  1.75
            2.5,  1.00, 14.09, 3.46
            1.0,  0.40, 34.98, 8.62
            10.0, 2.00, 6.58,  1.59
            5.0,  1.00, 12.87, 3.13
            2.5,  0.50, 25.46, 6.24
            1.0,  0.20, 63.26, 15.59
            10.0, 6.00, 2.86,  0.72
            2.5,  1.50, 10.76, 2.64
            """)
    void relativeUncertainty(double rangeK, double approachK, double classAPercent, double calibratedPercent) {
        ExchangerState s = balanced(rangeK, approachK);
        assertThat(percent(valueOf(EXCHANGER.conductanceWPerK(s, sensorsOnly(s, CLASS_A)))))
                .isCloseTo(classAPercent, within(0.02));
        assertThat(percent(valueOf(EXCHANGER.conductanceWPerK(s, sensorsOnly(s, CALIBRATED)))))
                .isCloseTo(calibratedPercent, within(0.02));
    }

    /** The same by Monte Carlo (JCGM 101) from rectangular errors, hot side only; 2 % of the uncertainty. */
    @Test
    void agreesWithMonteCarlo() {
        ExchangerState s = balanced(10, 4);
        Covariance u = sensorsOnly(s, CLASS_A);
        Random random = new Random(7);
        double[] draws = new double[40_000];
        for (int k = 0; k < draws.length; k++) {
            double[] x = s.toVector();
            for (int i = 0; i < ExchangerState.HOT_CAPACITY; i++) {
                x[i] += u.standardUncertainty(i) * Math.sqrt(3) * (2 * random.nextDouble() - 1);
            }
            draws[k] = valueOf(EXCHANGER.conductanceWPerK(state(x), u)).value();
        }
        double analytic = valueOf(EXCHANGER.conductanceWPerK(s, u)).standardUncertainty();
        assertThat(sd(draws)).isCloseTo(analytic, withinPercentage(2));
    }

    /** Reconciliation inside each draw: the covariance it leaves is the spread of UA; 3 % of the uncertainty. */
    @Test
    void agreesWithMonteCarloAfterReconciliation() {
        ExchangerState s = closed(balanced(10, 4));
        Covariance u = EXCHANGER.uncertainty(s, CLASS_A);
        Random random = new Random(11);
        double[] draws = new double[20_000];
        for (int k = 0; k < draws.length; k++) {
            double[] x = s.toVector();
            for (int i = 0; i < ExchangerState.HOT_CAPACITY; i++) {
                x[i] += u.standardUncertainty(i) * random.nextGaussian();
            }
            // an error of the tabulated heat capacity is one of the duty: as good as one of the flow
            x[ExchangerState.HOT_FLOW] *=
                    1 + u.standardUncertainty(ExchangerState.HOT_CAPACITY) * random.nextGaussian();
            x[ExchangerState.COLD_FLOW] *=
                    1 + u.standardUncertainty(ExchangerState.COLD_CAPACITY) * random.nextGaussian();
            draws[k] = valueOf(EXCHANGER.conductanceWPerK(valueOf(EXCHANGER.reconcile(state(x), u))))
                    .value();
        }
        Estimate analytic = valueOf(EXCHANGER.conductanceWPerK(valueOf(EXCHANGER.reconcile(s, u))));
        assertThat(sd(draws)).isCloseTo(analytic.standardUncertainty(), withinPercentage(3));
        assertThat(analytic.standardUncertainty())
                .as("the second side helps")
                .isLessThan(valueOf(EXCHANGER.conductanceWPerK(s, u)).standardUncertainty());
    }

    @Test
    void gradientsAreDerivatives() {
        Exchanger mixed = new Exchanger(
                new Stream(Coolant.of(new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25)), Meter.AT_OUTLET),
                WATER);
        double[] at = {0.022, 0.03, 42, 32, 30, 36.95, 1, 1};
        Sensitive ua = valueOf(mixed.conductance(state(at), 1));
        Sensitive left = valueOf(mixed.imbalance(state(at), 1, 1));
        for (int i = 0; i < ExchangerState.HOT_CAPACITY; i++) {
            double step = 1e-5 * at[i];
            double[] up = at.clone();
            double[] down = at.clone();
            up[i] += step;
            down[i] -= step;
            double uaSlope = (valueOf(mixed.conductance(state(up), 1)).value()
                            - valueOf(mixed.conductance(state(down), 1)).value())
                    / (2 * step);
            double leftSlope = (valueOf(mixed.imbalance(state(up), 1, 1)).value()
                            - valueOf(mixed.imbalance(state(down), 1, 1)).value())
                    / (2 * step);
            assertThat(ua.gradient()[i])
                    .as(ExchangerState.QUANTITIES.get(i))
                    .isCloseTo(uaSlope, within(1e-5 * Math.abs(uaSlope) + 1e-6 * ua.value() / at[i]));
            assertThat(left.gradient()[i])
                    .as(ExchangerState.QUANTITIES.get(i))
                    .isCloseTo(leftSlope, within(1e-5 * Math.abs(leftSlope) + 1e-3));
        }
    }

    @Test
    void logMeanSlopeIsSmoothWhereTheEndsMeet() {
        assertThat(LogMean.logSlopePerK(4, 4)).isEqualTo(0.125);
        assertThat(LogMean.logSlopePerK(4.000399, 4)).isCloseTo(LogMean.logSlopePerK(4.000401, 4), within(1e-7));
        // 1/(a - b) - 1/(a ln(a/b)) at 10 and 4 K
        assertThat(LogMean.logSlopePerK(10, 4)).isCloseTo(1.0 / 6 - 1 / (10 * Math.log(2.5)), within(1e-12));
    }

    @Test
    void reconciledStateClosesTheBalance() {
        ExchangerState s = new ExchangerState(0.0242, 0.0239, 44.05, 33.97, 30.03, 39.96);
        Reconciled r = valueOf(EXCHANGER.reconcile(s, EXCHANGER.uncertainty(s, CLASS_A)));
        double hot = valueOf(EXCHANGER.dutyW(r)).value();
        double hotMeasured = valueOf(EXCHANGER.hotDutyW(s, r.covariance())).value();
        double coldMeasured = valueOf(EXCHANGER.coldDutyW(s, r.covariance())).value();
        assertThat(hot).isBetween(coldMeasured, hotMeasured);
        assertThat(r.reconciliation().consistentAt(0.05)).isTrue();
        assertThat(r.reconciliation().balances()).isEqualTo(1);
    }

    @Test
    void tenfoldFlowIsInconsistentAndNotSilent() {
        ExchangerState s = new ExchangerState(0.24, 0.024, 44, 34, 30, 40);
        boolean accepted = EXCHANGER
                .reconcile(s, EXCHANGER.uncertainty(s, CLASS_A))
                .fold(r -> r.reconciliation().consistentAt(0.001), gap -> false);
        assertThat(accepted).isFalse();
    }

    @ParameterizedTest
    @CsvSource({
        "-0.02, 44, 34, 30, 40, INPUT_IMPLAUSIBLE, negative flow",
        "0,     44, 34, 30, 40, NOT_RUNNING,       TCS flow is 0.0",
        "0.02,  34, 44, 30, 40, INPUT_IMPLAUSIBLE, TCS return",
        "0.02,  44, 34, 40, 30, INPUT_IMPLAUSIBLE, FWS return",
        "0.02,  44, 29, 30, 40, INPUT_IMPLAUSIBLE, TCS supply",
        "0.02,  39, 34, 30, 40, INPUT_IMPLAUSIBLE, TCS return",
        "NaN,   44, 34, 30, 40, INPUT_BAD,         not a finite",
        "0.02,  95, 34, 30, 40, OUTSIDE_VALID_RANGE, 95.0"
    })
    void impossibleStatesHaveANamedReason(
            double hotFlow, double hotIn, double hotOut, double coldIn, double coldOut, Reason reason, String part) {
        ExchangerState s = new ExchangerState(hotFlow, 0.02, hotIn, hotOut, coldIn, coldOut);
        Covariance u = Covariance.independent(1e-4, 1e-4, 0.1, 0.1, 0.1, 0.1, 0.001, 0.001);
        assertThat(reasonOf(EXCHANGER.reconcile(s, u))).isEqualTo(reason);
        assertThat(detailOf(EXCHANGER.reconcile(s, u))).contains(part);
        assertThat(reasonOf(EXCHANGER.conductanceWPerK(s, u))).isEqualTo(reason);
    }

    /** The state with the FWS flow that closes its balance. */
    private static ExchangerState closed(ExchangerState s) {
        double hot = valueOf(EXCHANGER.hotDuty(s, 1)).value();
        double cold = valueOf(EXCHANGER.coldDuty(s, 1)).value();
        return new ExchangerState(
                s.hotFlowM3PerS(),
                s.coldFlowM3PerS() * hot / cold,
                s.hotInletC(),
                s.hotOutletC(),
                s.coldInletC(),
                s.coldOutletC());
    }

    private static ExchangerState state(double[] x) {
        return new ExchangerState(x[0], x[1], x[2], x[3], x[4], x[5]);
    }

    private static double percent(Estimate e) {
        return 100 * e.standardUncertainty() / e.value();
    }

    private static double sd(double[] draws) {
        double mean = Arrays.stream(draws).average().orElseThrow();
        return Math.sqrt(Arrays.stream(draws).map(d -> (d - mean) * (d - mean)).sum() / (draws.length - 1));
    }
}
