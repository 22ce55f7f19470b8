package io.loopwarden.virtual.plant;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.virtual.Units;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

class PlantTest {

    @Test
    void energyBalanceClosesInSteadyState() {
        Plant plant = new Plant(Units.healthy("E-05").plant(), 35);
        Surroundings around = new Surroundings(1.4e6, 0.95, 29, 150e3);
        plant.actuators().valvePosition = 0.85;
        for (int second = 0; second < 3600; second++) {
            plant.step(around, 1);
        }
        assertThat(plant.transferW()).isCloseTo(1.4e6 + plant.shaftPowerW(), withinPercentage(0.05));
    }

    @Test
    void energyBalanceClosesWhileTheLoadChanges() {
        Plant plant = new Plant(Units.healthy("E-01").plant(), 35);
        plant.actuators().valvePosition = 0.8;
        for (int second = 0; second < 1800; second++) {
            plant.step(new Surroundings(0.8e6, 0.9, 29, 150e3), 1);
        }
        double before = plant.storedJ();
        double in = 0;
        double out = 0;
        for (int second = 0; second < 1800; second++) {
            Surroundings around = new Surroundings(0.8e6 + 200 * Math.min(second, 1200), 0.9, 29, 150e3);
            plant.step(around, 1);
            in += around.rackHeatW() + plant.shaftPowerW();
            out += plant.transferW();
        }
        // Heat capacities change by a tenth of a percent over these temperatures and are taken at one of them.
        assertThat(plant.storedJ() - before).isCloseTo(in - out, within(1.5e-3 * in));
        assertThat(plant.storedJ() - before).isGreaterThan(0.02 * in);
    }

    @Test
    void twoMegawattsOnFiveHundredGallonsRiseFifteenKelvin() {
        Plant plant = new Plant(Units.healthy("E-05").plant(), 35);
        double rated = plant.parameters().nameplate().ratedTcsFlowM3PerS();
        Surroundings around = new Surroundings(2e6, 1, 30, 151.685e3);
        // What the racks need at rated flow, valve open.
        plant.actuators().valvePosition = 1;
        for (int step = 0; step < 200; step++) {
            plant.settle(around, plant.parameters().nameplate().availableHeadPa(), 0, false, 60);
        }
        assertThat(plant.tcsFlowM3PerS()).isCloseTo(rated, withinPercentage(0.5));
        assertThat(plant.tcsReturnC() - plant.tcsSupplyC()).isCloseTo(15.3, within(0.2));
        assertThat(plant.tcsSupplyC() - 30).isBetween(2.0, 3.0);
        assertThat(plant.approachAtRatedK()).isCloseTo(plant.tcsSupplyC() - 30, within(0.05));
    }

    @Test
    void askingForTheRatedApproachChangesNothing() {
        Plant asked = new Plant(Units.healthy("E-05").plant(), 35);
        Plant left = new Plant(Units.healthy("E-05").plant(), 35);
        Surroundings around = new Surroundings(1.2e6, 0.9, 29, 150e3);
        for (int second = 0; second < 300; second++) {
            asked.step(around, 1);
            left.step(around, 1);
            asked.approachAtRatedK();
        }
        assertThat(asked.tcsSupplyC()).isEqualTo(left.tcsSupplyC());
        assertThat(asked.storedJ()).isEqualTo(left.storedJ());
    }

    @Test
    void depositsRaiseTheRatedApproachAndLowerTheConductance() {
        Plant plant = new Plant(Units.healthy("E-05").plant(), 35);
        Surroundings around = new Surroundings(1.2e6, 0.9, 29, 150e3);
        plant.settle(around, 276e3, 3, false, 60);
        double clean = plant.approachAtRatedK();
        Arrays.fill(plant.condition().foulingM2KPerW, 4e-5);
        plant.settle(around, 276e3, 3, false, 60);
        assertThat(plant.approachAtRatedK()).isGreaterThan(clean + 0.4);
        // 1/U grows by exactly the deposits at the same flows.
        double area = plant.parameters().plateAreaM2() / 3;
        assertThat(area / plant.uaWPerK(1) - area / plant.cleanUaWPerK(1)).isCloseTo(4e-5, within(1e-9));
    }

    @Test
    void levelRisesWithTemperatureAndFallsWithTheLeak() {
        Plant plant = new Plant(Units.healthy("E-01").plant(), 30);
        double cold = plant.reservoirLevel();
        Surroundings warm = new Surroundings(1.2e6, 0.9, 30, 150e3);
        for (int minute = 0; minute < 60; minute++) {
            plant.settle(warm, 180e3, 5, false, 60);
        }
        double hot = plant.reservoirLevel();
        assertThat(hot).isGreaterThan(cold + 0.02);
        plant.condition().leakM3PerS = 10e-3 / 3600;
        for (int minute = 0; minute < 60; minute++) {
            plant.settle(warm, 180e3, 5, false, 60);
        }
        // 10 L of a reservoir of 120 L.
        assertThat(hot - plant.reservoirLevel()).isCloseTo(10.0 / 120, within(0.003));
        assertThat(plant.leakedM3()).isCloseTo(0.01, within(1e-9));
        assertThat(plant.ropeWet()).isTrue();
    }
}
