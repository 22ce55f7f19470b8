package io.loopwarden.virtual.plant;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.api.Test;

class HydraulicsTest {

    private final Pump pump = new Pump(0.0315, 586e3);

    @Test
    void pumpFollowsTheAffinityLaws() {
        assertThat(pump.dpPa(0.8, 0.8 * 0.03, 0)).isCloseTo(0.64 * pump.dpPa(1, 0.03, 0), within(1e-6));
        assertThat(pump.shaftPowerW(0.8, 0.8 * 0.03, 0)).isCloseTo(0.512 * pump.shaftPowerW(1, 0.03, 0), within(1e-6));
    }

    @Test
    void hydraulicPowerOfALargePumpIsAsPracticeHasIt() {
        // 500 US gal/min at 85 psi: about 18.5 kW of hydraulic power.
        assertThat(pump.dpPa(1, 0.0315, 0) * 0.0315).isCloseTo(18.5e3, withinPercentage(1));
        assertThat(pump.shaftPowerW(1, 0.0315, 0)).isCloseTo(18.5e3 / 0.76, withinPercentage(1));
    }

    @Test
    void aWornPumpGivesLessAndTakesMoreForTheSameWork() {
        assertThat(pump.dpPa(1, 0.03, 0.15)).isLessThan(0.9 * pump.dpPa(1, 0.03, 0));
        double same = pump.dpPa(0.9, 0.025, 0);
        double speed = Math.sqrt((same + pump.curvaturePaS2PerM6() * 0.025 * 0.025) / pump.shutOffDpPa(1, 0.15));
        assertThat(pump.shaftPowerW(speed, 0.025, 0.15)).isGreaterThan(1.05 * pump.shaftPowerW(0.9, 0.025, 0));
    }

    @Test
    void equalStepsOfTheValveGiveEqualRatios() {
        ControlValve valve = new ControlValve(1);
        double first = valve.relativeCapacity(0.4) / valve.relativeCapacity(0.3);
        assertThat(valve.relativeCapacity(0.9) / valve.relativeCapacity(0.8)).isCloseTo(first, within(1e-12));
        assertThat(valve.relativeCapacity(1)).isEqualTo(1);
        assertThat(valve.relativeCapacity(0)).isPositive().isLessThan(1e-3);
    }

    @Test
    void parallelFiltersShareFlowAndALoadedOneShedsIt() {
        FilterBank bank = new FilterBank(4, 0.03, 10e3, 30e3);
        double[] clean = {1, 1, 1, 1};
        assertThat(bank.solve(0.03, clean, 0.65e-3, 992)).isCloseTo(40e3, within(10.0));
        assertThat(bank.elementDpPa(0, clean, 0.65e-3, 992)).isCloseTo(10e3, within(5.0));
        double[] loaded = {1, 1, 4, 1};
        double dp = bank.solve(0.03, loaded, 0.65e-3, 992);
        assertThat(dp).isBetween(40e3, 60e3);
        assertThat(bank.elementDpPa(2, loaded, 0.65e-3, 992))
                .isGreaterThan(2 * bank.elementDpPa(0, loaded, 0.65e-3, 992))
                .isLessThan(dp);
    }
}
