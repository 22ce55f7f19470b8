package io.loopwarden.virtual.fault;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import org.junit.jupiter.api.Test;

class FaultTest {

    private static final double DAY = 86400;

    @Test
    void foulingFollowsKernAndSeaton() {
        Fault fault = new Fault(FaultKind.FOULING, 1, Optional.empty(), 0, Double.POSITIVE_INFINITY, 0, 0, 4e-5, 90);
        // R* = 4e-5 m2K/W, 90 days: table of R* (1 − e^(−t/τ)).
        assertThat(fault.severity(30 * DAY)).isCloseTo(1.133875e-5, within(1e-11));
        assertThat(fault.severity(180 * DAY)).isCloseTo(3.458659e-5, within(1e-11));
    }

    @Test
    void nothingBeforeTheBeginningOrAfterTheRepair() {
        Fault fault = new Fault(FaultKind.LEAK, 0, Optional.empty(), 10 * DAY, 12 * DAY, 1.5, 0.5, 0, 0);
        assertThat(fault.severity(10 * DAY - 1)).isZero();
        assertThat(fault.severity(11 * DAY)).isEqualTo(2.0);
        assertThat(fault.severity(12 * DAY)).isZero();
    }

    @Test
    void aSensorFaultNeedsItsSensor() {
        assertThatThrownBy(() ->
                        new Fault(FaultKind.SENSOR_STUCK, 0, Optional.empty(), 0, Double.POSITIVE_INFINITY, 1, 0, 0, 0))
                .hasMessageContaining("needs point");
    }
}
