package io.loopwarden.virtual;

import static io.loopwarden.virtual.Units.START;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.PointName;
import io.loopwarden.virtual.fault.FaultKind;
import java.time.Duration;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class VirtualUnitTest {

    private static final PointName SUPPLY = PointName.of("tcs.supply.temperature");
    private static final PointName FWS = PointName.of("fws.supply.temperature");
    private static final PointName DP = PointName.of("tcs.dp");
    private static final PointName VALVE = PointName.of("fws.valve.position");
    private static final PointName SPEED = PointName.of("pump.1.speed");

    @Test
    void controllerHoldsDifferentialPressureAndApproach() {
        VirtualUnit unit = new VirtualUnit(Units.atLoad(Units.healthy("E-05"), 0.7), START);
        unit.step(Duration.ofMinutes(10));
        assertThat(mean(unit, DP)).isCloseTo(276e3, within(400.0));
        assertThat(mean(unit, SUPPLY) - mean(unit, FWS)).isCloseTo(3, within(0.1));
    }

    @Test
    void controllerFollowsAForecastRun() {
        VirtualUnit unit = new VirtualUnit(Units.healthy("E-05"), START.plusSeconds(4800));
        double worst = 0;
        for (int second = 0; second < 3600; second++) {
            unit.step(Duration.ofSeconds(1));
            worst = Math.max(worst, Math.abs(unit.value(SUPPLY) - unit.value(FWS) - 3));
        }
        assertThat(unit.truth().rackHeatW()).as("the run is on").isGreaterThan(0.7 * 2e6);
        assertThat(worst).isLessThan(0.8);
    }

    @Test
    void foulingOpensTheValveWhileTheApproachStays() {
        VirtualUnit clean = new VirtualUnit(Units.atLoad(Units.healthy("E-05"), 0.7), START);
        VirtualUnit fouled = new VirtualUnit(
                Units.atLoad(
                        Units.with("E-05", List.of(Units.since(START.minusSeconds(1), FaultKind.FOULING, 0, 4e-5))),
                        0.7),
                START);
        clean.step(Duration.ofMinutes(20));
        fouled.step(Duration.ofMinutes(20));
        assertThat(mean(fouled, SUPPLY) - mean(fouled, FWS)).isCloseTo(3, within(0.1));
        assertThat(mean(fouled, VALVE)).isGreaterThan(mean(clean, VALVE) + 0.02);
        assertThat(fouled.truth().approachAtRatedK())
                .isGreaterThan(clean.truth().approachAtRatedK() + 0.4);
    }

    @Test
    void aWornPumpTurnsFasterForTheSamePressure() {
        VirtualUnit worn = new VirtualUnit(
                Units.atLoad(
                        Units.with("W-03", List.of(Units.since(START.minusSeconds(1), FaultKind.PUMP_WEAR, 1, 0.2))),
                        0.7),
                START);
        VirtualUnit healthy = new VirtualUnit(Units.atLoad(Units.healthy("W-03"), 0.7), START);
        assertThat(worn.value(DP)).isCloseTo(healthy.value(DP), within(1500.0));
        assertThat(worn.value(SPEED)).isGreaterThan(healthy.value(SPEED) * 1.08);
    }

    @Test
    void theStandbyPumpHelpsWhenOneIsNotEnough() {
        VirtualUnit unit = new VirtualUnit(
                Units.atLoad(Units.with("W-03", List.of(Units.since(START, FaultKind.PUMP_WEAR, 1, 0.6))), 0.7), START);
        unit.step(Duration.ofMinutes(5));
        Readings readings = unit.readings();
        assertThat(readings.value("pump.1.running") + readings.value("pump.2.running"))
                .isEqualTo(2);
        assertThat(mean(unit, DP)).isCloseTo(180e3, within(1000.0));
    }

    @Test
    void makeUpHoldsTheLevelAgainstALeak() {
        VirtualUnit unit =
                new VirtualUnit(Units.with("E-01", List.of(Units.since(START, FaultKind.LEAK, 0, 30))), START);
        for (int minute = 0; minute < 12 * 60; minute++) {
            unit.coarseStep(Duration.ofMinutes(1));
        }
        assertThat(unit.readings().value("makeup.volume")).isGreaterThan(0.1);
        assertThat(unit.readings().value("reservoir.level")).isBetween(0.3, 0.55);
    }

    @Test
    void coarseStepsEndWhereAllDynamicsEnd() {
        VirtualUnit coarse = new VirtualUnit(Units.atLoad(Units.healthy("E-01"), 0.7), START);
        VirtualUnit fine = new VirtualUnit(Units.atLoad(Units.healthy("E-01"), 0.7), START);
        for (int minute = 0; minute < 60; minute++) {
            coarse.coarseStep(Duration.ofMinutes(1));
        }
        fine.step(Duration.ofMinutes(60));
        assertThat(coarse.now()).isEqualTo(fine.now());
        Truth a = coarse.truth();
        Truth b = fine.truth();
        assertThat(a.tcsReturnC()).isCloseTo(b.tcsReturnC(), within(0.15));
        assertThat(a.fwsFlowM3PerS()).isCloseTo(b.fwsFlowM3PerS(), within(0.03 * b.fwsFlowM3PerS()));
        assertThat(a.approachAtRatedK()).isCloseTo(b.approachAtRatedK(), within(0.02));
    }

    @Test
    void theSameSeedGivesTheSameReadings() {
        VirtualUnit one = new VirtualUnit(Units.healthy("W-11"), START);
        VirtualUnit other = new VirtualUnit(Units.healthy("W-11"), START);
        for (int i = 0; i < 50; i++) {
            one.step(Duration.ofSeconds(1));
            other.step(Duration.ofSeconds(1));
        }
        assertThat(values(one)).isEqualTo(values(other));
        UnitSpec spec = Units.healthy("W-11");
        VirtualUnit third = new VirtualUnit(
                new UnitSpec(spec.id(), spec.plant(), spec.site(), spec.setpoints(), spec.faults(), spec.seed() + 1),
                START);
        third.step(Duration.ofSeconds(50));
        assertThat(values(third)).isNotEqualTo(values(one));
    }

    @Test
    void aDriftingSupplySensorMovesTheTrueApproachNotTheShown() {
        VirtualUnit unit = new VirtualUnit(
                Units.atLoad(
                        Units.with("W-08", List.of(Units.sensor(START, FaultKind.SENSOR_OFFSET, SUPPLY.value(), 1.0))),
                        0.7),
                START);
        unit.step(Duration.ofMinutes(20));
        assertThat(mean(unit, SUPPLY) - mean(unit, FWS)).isCloseTo(5, within(0.12));
        Truth truth = unit.truth();
        assertThat(truth.tcsSupplyC() - truth.fwsSupplyC()).isCloseTo(4, within(0.4));
        assertThat(truth.sensorError().get(SUPPLY.value())).isCloseTo(1, within(0.3));
    }

    @Test
    void stuckAndDeadSensorsShowIt() {
        VirtualUnit unit = new VirtualUnit(
                Units.with(
                        "E-01",
                        List.of(
                                Units.sensor(START, FaultKind.SENSOR_STUCK, "tcs.flow", 1),
                                Units.sensor(START, FaultKind.SENSOR_DEAD, "fws.flow", 1))),
                START);
        unit.step(Duration.ofSeconds(5));
        double stuck = unit.readings().value("tcs.flow");
        unit.step(Duration.ofSeconds(30));
        assertThat(unit.readings().value("tcs.flow")).isEqualTo(stuck);
        assertThat(unit.readings().isBad("fws.flow")).isTrue();
        assertThat(unit.readings().samples())
                .filteredOn(sample -> !sample.hasValue())
                .singleElement()
                .satisfies(sample -> assertThat(sample.point().value()).isEqualTo("fws.flow"));
    }

    @Test
    void aStickingValveHunts() {
        VirtualUnit unit = new VirtualUnit(
                Units.atLoad(Units.with("W-11", List.of(Units.since(START, FaultKind.HUNTING_VALVE, 0, 0.06))), 0.7),
                START);
        unit.step(Duration.ofMinutes(10));
        double low = 9;
        double high = -9;
        for (int second = 0; second < 1800; second++) {
            unit.step(Duration.ofSeconds(1));
            low = Math.min(low, unit.value(VALVE));
            high = Math.max(high, unit.value(VALVE));
        }
        assertThat(high - low).isBetween(0.02, 0.2);
    }

    @Test
    void aLostControllerIsSilentAndItsLoopRunsOn() {
        VirtualUnit unit = new VirtualUnit(
                Units.with("E-01", List.of(Units.since(START.plusSeconds(10), FaultKind.LOST_CONTROLLER, 0, 1))),
                START);
        unit.step(Duration.ofSeconds(5));
        assertThat(unit.alive()).isTrue();
        unit.step(Duration.ofSeconds(60));
        assertThat(unit.alive()).isFalse();
        assertThat(unit.truth().dutyW()).isGreaterThan(0.5e6);
    }

    private static double[] values(VirtualUnit unit) {
        Readings readings = unit.readings();
        return IntStream.range(0, readings.size()).mapToDouble(readings::value).toArray();
    }

    private static double mean(VirtualUnit unit, PointName point) {
        double sum = 0;
        for (int i = 0; i < 60; i++) {
            unit.step(Duration.ofSeconds(1));
            sum += unit.value(point);
        }
        return sum / 60;
    }
}
