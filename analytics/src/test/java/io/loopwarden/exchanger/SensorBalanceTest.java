package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.exchanger.SensorBalance.Second;
import io.loopwarden.exchanger.Stream.Meter;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fluid.Coolant;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SensorBalanceTest {

    private static final Exchanger EXCHANGER = new Exchanger(
            new Stream(Coolant.of(CoolantSpec.WATER), Meter.AT_OUTLET),
            new Stream(Coolant.of(CoolantSpec.WATER), Meter.AT_INLET));
    private static final List<String> NAMES =
            List.of("tcs flow", "fws flow", "tcs return", "tcs supply", "fws supply", "fws return");
    private static final double[] U = {1.2e-4, 1.2e-4, 0.1, 0.1, 0.1, 0.1, 1e-4, 1e-4};
    private static final double FWS_FLOW = 0.02406;

    /** Both duties equal by construction; the return takes more volume by the ratio of densities. */
    private static SensorBalance balance(double[] errors) {
        double closing = valueOf(EXCHANGER.hotDutyW(state(new double[9], FWS_FLOW), uncertainty()))
                        .value()
                / valueOf(EXCHANGER.coldDutyW(state(new double[9], FWS_FLOW), uncertainty()))
                        .value();
        List<Second> seconds = List.of(
                new Second("tcs return again", 2, 44 + errors[6], 0.1, 1),
                new Second("tcs supply again", 3, 34 + errors[7], 0.1, 1),
                new Second("tcs return flow", 0, 1.004 * 0.024 + errors[8], 1.2e-4, 1.004));
        return valueOf(SensorBalance.of(EXCHANGER, state(errors, FWS_FLOW * closing), NAMES, U, seconds));
    }

    private static io.loopwarden.statistics.Covariance uncertainty() {
        return io.loopwarden.statistics.Covariance.independent(U);
    }

    private static ExchangerState state(double[] errors, double fwsFlow) {
        return new ExchangerState(
                0.024 + errors[0], fwsFlow + errors[1], 44 + errors[2], 34 + errors[3], 30 + errors[4], 40 + errors[5]);
    }

    @ParameterizedTest
    @CsvSource(textBlock = """
            # sensor, error, named
            2, 1.0,     tcs return
            3, -1.0,    tcs supply
            6, 1.0,     tcs return again
            7, 1.0,     tcs supply again
            0, 0.0012,  tcs flow
            8, -0.0012, tcs return flow
            """)
    void aSensorThatIsFarOffIsNamed(int sensor, double error, String named) {
        double[] errors = new double[9];
        errors[sensor] = error;
        SensorBalance balance = balance(errors);
        assertThat(balance.pValue()).isLessThan(1e-4);
        assertThat(balance.suspect()).contains(named);
    }

    /** FWS sensors stand in one balance only, and cannot be told apart. */
    @Test
    void whatOneBalanceHoldsCannotBeToldApart() {
        double[] errors = new double[9];
        errors[5] = 1.5;
        SensorBalance balance = balance(errors);
        assertThat(balance.pValue()).isLessThan(1e-4);
        assertThat(balance.balances()).isEqualTo(4);
        assertThat(balance.suspect()).isNotEqualTo(Optional.of("tcs return")).isNotEqualTo(Optional.of("tcs supply"));
    }

    /** 5 % and 1 % of a normal deviate: 1.959964 and 2.575829 (any table). */
    @ParameterizedTest
    @CsvSource({"1.959964, 0.05", "2.575829, 0.01"})
    void heatAloneIsANormalDeviate(double deviate, double p) {
        ExchangerState s = state(new double[9], FWS_FLOW);
        double hot = valueOf(EXCHANGER.hotDutyW(s, uncertainty())).value();
        double cold = valueOf(EXCHANGER.coldDutyW(s, uncertainty())).value();
        ExchangerState closed = state(new double[9], FWS_FLOW * hot / cold);
        double[] flowOnly = {0, 1e-4, 0, 0, 0, 0, 0, 0};
        ExchangerState off = new ExchangerState(
                closed.hotFlowM3PerS(),
                closed.coldFlowM3PerS() + deviate * 1e-4,
                closed.hotInletC(),
                closed.hotOutletC(),
                closed.coldInletC(),
                closed.coldOutletC());
        SensorBalance balance = valueOf(SensorBalance.of(EXCHANGER, off, NAMES, flowOnly, List.of()));
        assertThat(balance.pValue()).isCloseTo(p, within(1e-6));
        assertThat(balance.suspect()).isEmpty();
    }

    /** Under the stated uncertainties the p-value is even between 0 and 1; bounds are four binomial deviations of 2000 draws. */
    @Test
    void sensorsAsGoodAsStatedRaiseSuspicionAsOftenAsTheyShould() {
        Random random = new Random(9);
        double[] u = {U[0], U[1], U[2], U[3], U[4], U[5], 0.1, 0.1, U[0]};
        int below = 0;
        double sum = 0;
        int draws = 2000;
        for (int k = 0; k < draws; k++) {
            double[] errors = new double[9];
            for (int i = 0; i < errors.length; i++) {
                errors[i] = u[i] * random.nextGaussian();
            }
            double p = balance(errors).pValue();
            below += p < 0.05 ? 1 : 0;
            sum += p;
        }
        assertThat((double) below / draws).isCloseTo(0.05, within(0.02));
        assertThat(sum / draws).isCloseTo(0.5, within(0.026));
    }
}
