package io.loopwarden.exchanger;

import io.loopwarden.fluid.Coolant;
import java.util.Objects;

/**
 * One side of an exchanger: what flows there and where its flow meter sits.
 *
 * @param meter end of the exchanger at whose temperature the meter reads volume; 10 K of error in it are 0.4 % of duty
 */
public record Stream(Coolant coolant, Meter meter) {

    public enum Meter {
        AT_INLET,
        AT_OUTLET
    }

    public Stream {
        Objects.requireNonNull(coolant, "coolant");
        Objects.requireNonNull(meter, "meter");
    }

    double meterTemperatureC(double inletC, double outletC) {
        return meter == Meter.AT_INLET ? inletC : outletC;
    }
}
