package io.loopwarden.virtual.plant;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class PlateExchangerTest {

    private static final double STEADY = Double.POSITIVE_INFINITY;
    private static final double HEAT = 4.15e6;

    @Test
    void equalCapacityRatesKeepTheDifferenceOverTheWholeLength() {
        // Balanced counterflow: approach = q / UA exactly (Shah and Sekulic, ch. 3); here UA = 250 kW/K, C = 100 kW/K.
        PlateExchanger exchanger = new PlateExchanger(50, 30);
        exchanger.solve(44, 30, 100e3, 100e3, HEAT, HEAT, 5000, 0, STEADY);
        double duty = 100e3 * (44 - exchanger.hotOutC());
        assertThat(exchanger.hotOutC() - 30).isCloseTo(duty / 250e3, within(1e-9));
        assertThat(exchanger.coldOutC()).isCloseTo(44 - duty / 250e3, within(1e-9));
    }

    @Test
    void unequalRatesAgreeWithTheLogarithmicMeanDifference() {
        PlateExchanger exchanger = new PlateExchanger(100, 30);
        exchanger.solve(45, 32, 200e3, 217e3, HEAT, HEAT, 5954, 0, STEADY);
        double duty = 200e3 * (45 - exchanger.hotOutC());
        double atHot = 45 - exchanger.coldOutC();
        double atCold = exchanger.hotOutC() - 32;
        double logMean = (atHot - atCold) / Math.log(atHot / atCold);
        // Twelve cells with a mean difference each: second order, 0.02 % here.
        assertThat(duty / logMean).isCloseTo(595.4e3, within(595.4e3 * 2e-4));
        assertThat(217e3 * (exchanger.coldOutC() - 32)).isCloseTo(duty, within(1e-4));
    }

    @Test
    void storedHeatIsWhatCameInMinusWhatWentOut() {
        PlateExchanger exchanger = new PlateExchanger(50, 30);
        double before = exchanger.storedJ(HEAT, HEAT);
        double in = 0;
        for (int second = 0; second < 40; second++) {
            exchanger.solve(50, 30, 80e3, 90e3, HEAT, HEAT, 5000, 0.05, 1);
            exchanger.keep();
            in += 80e3 * (50 - exchanger.hotOutC()) - 90e3 * (exchanger.coldOutC() - 30);
        }
        assertThat(exchanger.storedJ(HEAT, HEAT) - before).isCloseTo(in, within(Math.abs(in) * 1e-9));
    }

    @Test
    void aStepChangeArrivesLater() {
        PlateExchanger exchanger = new PlateExchanger(50, 30);
        exchanger.solve(50, 30, 80e3, 80e3, HEAT, HEAT, 5000, 0, 1);
        double firstSecond = exchanger.hotOutC();
        exchanger.solve(50, 30, 80e3, 80e3, HEAT, HEAT, 5000, 0, STEADY);
        assertThat(firstSecond).isLessThan(exchanger.hotOutC() - 1);
    }
}
