package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.SensorClass;
import org.junit.jupiter.api.Test;

/** What pump speed and facility valve have left; rated FWS flow 30 L/s at 120 kPa. */
class ControlReserveTest {

    private static Rig at(double speed, double dpPa, double valve, double fwsFlow, double approachK) {
        return Rig.of(Rig.nameplate(CoolantSpec.WATER, SensorClass.DEFAULT))
                .temperatures(44, 30 + approachK, 30, 38)
                .tcsFlow(0.025)
                .fwsFlow(fwsFlow)
                .set(Points.FWS_DP, 120e3, 577)
                .set(Points.FWS_VALVE_POSITION, valve, 0)
                .set(Points.APPROACH_SETPOINT, 4, 0)
                .set(Points.TCS_DP, dpPa, 577)
                .set(Points.TCS_DP_SETPOINT, 200e3, 0)
                .set(Points.numbered("pump.{n}.speed", 1), speed, 0)
                .set(Points.numbered("pump.{n}.speed", 2), 0, 0);
    }

    private static IndicatorResult result(Rig rig) {
        return Indicators.evaluate(rig.evidence()).stream()
                .filter(r -> r.key().equals("control-reserve"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void theTighterActuatorDecides() {
        Rig pump = at(0.8, 200e3, 0.6, 0.020, 4);
        assertThat(pump.estimate("control-reserve").value()).isCloseTo(1.25, within(1e-9));
        assertThat(result(pump).subject()).isEqualTo("speed of pump 1");
        Rig valve = at(0.6, 200e3, 0.8, 0.025, 4);
        assertThat(valve.estimate("control-reserve").value()).isCloseTo(1.2, within(1e-9));
        assertThat(result(valve).subject()).isEqualTo("facility valve");
    }

    @Test
    void anActuatorAtItsEndThatHoldsAsksForMaintenance() {
        FunctionSignal signal = Signals.control(result(at(0.8, 200e3, 1, 0.030, 4)));
        assertThat(signal.signal()).isEqualTo(Ne107.MAINTENANCE_REQUIRED);
        assertThat(signal.reason()).isEqualTo("Facility valve is at its end; the set point is just held.");
    }

    @Test
    void aMissedSetPointIsOutOfSpecification() {
        FunctionSignal valve = Signals.control(result(at(0.8, 200e3, 1, 0.030, 5)));
        assertThat(valve.signal()).isEqualTo(Ne107.OUT_OF_SPECIFICATION);
        assertThat(valve.reason()).contains("reaches 80 ± ");
        FunctionSignal pump = Signals.control(result(at(1, 162e3, 0.5, 0.020, 4)));
        assertThat(pump.signal()).isEqualTo(Ne107.OUT_OF_SPECIFICATION);
        assertThat(pump.reason()).startsWith("Speed of pump 1 is at its end and reaches 90 ± ");
    }

    @Test
    void errorsAreMeasuredMinusSetPoint() {
        Rig rig = at(0.8, 195e3, 0.6, 0.020, 4.3);
        assertThat(rig.estimate("loop-dp-error").value()).isCloseTo(-5000, within(1e-6));
        assertThat(rig.estimate("approach-error").value()).isCloseTo(0.3, within(1e-9));
    }
}
