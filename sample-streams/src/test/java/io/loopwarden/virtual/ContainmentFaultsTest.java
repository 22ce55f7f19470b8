package io.loopwarden.virtual;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.FaultKind;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;

class ContainmentFaultsTest {

    private static final String UNIT = "E-07";

    private static VirtualUnit with(Fault fault) {
        return new VirtualUnit(Units.atLoad(Units.with(UNIT, List.of(fault)), 0.6), Units.START);
    }

    private static double levelMoved(VirtualUnit unit, double hours) {
        VirtualUnit twin = new VirtualUnit(Units.atLoad(Units.healthy(UNIT), 0.6), Units.START);
        twin.coarseStep(Duration.ofSeconds(60));
        unit.coarseStep(Duration.ofSeconds(60));
        for (int i = 0; i < 60 * hours; i++) {
            twin.coarseStep(Duration.ofSeconds(60));
            unit.coarseStep(Duration.ofSeconds(60));
        }
        return unit.readings().value("reservoir.level") - twin.readings().value("reservoir.level");
    }

    @Test
    void aPinholeFollowsThePressuresAndTheTruthSaysWhichWay() {
        VirtualUnit unit = with(Units.since(Units.START, FaultKind.PINHOLE, 0, 6));
        double moved = levelMoved(unit, 2);
        double leakM3PerS = unit.truth().leakM3PerS();
        double difference =
                unit.readings().value("tcs.supply.pressure") - unit.readings().value("fws.supply.pressure");
        assertThat(Math.signum(leakM3PerS)).isEqualTo(Math.signum(difference));
        assertThat(Math.abs(moved)).isGreaterThan(0.01);
        assertThat(Math.signum(moved)).isEqualTo(-Math.signum(leakM3PerS));
    }

    @Test
    void whatStaffPoursRaisesTheLevelAndNotTheCounter() {
        VirtualUnit unit = with(Units.since(Units.START, FaultKind.STAFF_POURS, 0, 10));
        double before = unit.readings().value("makeup.volume");
        double reservoirL = 1000 * unit.spec().plant().nameplate().reservoirVolumeM3();
        assertThat(levelMoved(unit, 1)).isCloseTo(10 / reservoirL, within(0.02));
        assertThat(unit.readings().value("makeup.volume")).isEqualTo(before);
    }

    @Test
    void aSwitchWithALooseWireChatters() {
        VirtualUnit unit = with(Units.sensor(Units.START, FaultKind.SENSOR_CHATTERS, "tray.wet", 3));
        int changes = 0;
        double last = 0;
        for (int s = 0; s < 30; s++) {
            unit.step(Duration.ofSeconds(1));
            double now = unit.readings().value("tray.wet");
            changes += now != last ? 1 : 0;
            last = now;
        }
        assertThat(changes).isBetween(8, 11);
    }
}
