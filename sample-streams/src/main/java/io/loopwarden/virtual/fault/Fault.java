package io.loopwarden.virtual.fault;

import java.util.Objects;
import java.util.Optional;

/**
 * One thing that goes wrong in one unit. Its severity is nought before {@code fromS}; then
 * {@code step + perDay·days + limit·(1 − e^(−days/timeConstant))}, the last after Kern and Seaton's fouling model.
 *
 * @param target number of the pump, filter or exchanger, from 1; 0 for all of them
 * @param point the sensor's point, for sensor faults
 * @param fromS when it begins, seconds of the epoch
 * @param untilS when it is repaired; infinite if never
 */
public record Fault(
        FaultKind kind,
        int target,
        Optional<String> point,
        double fromS,
        double untilS,
        double step,
        double perDay,
        double limit,
        double timeConstantDays) {

    public Fault {
        Objects.requireNonNull(kind, "kind");
        Objects.requireNonNull(point, "point");
        if (limit != 0 && !(timeConstantDays > 0)) {
            throw new IllegalArgumentException(
                    kind + ": a limit needs a time constant > 0 days, not " + timeConstantDays);
        }
        boolean sensor = kind.name().startsWith("SENSOR_");
        if (sensor != point.isPresent()) {
            throw new IllegalArgumentException(kind + (sensor ? " needs" : " takes no") + " point");
        }
    }

    public double severity(double epochS) {
        if (epochS < fromS || epochS >= untilS) {
            return 0;
        }
        double days = (epochS - fromS) / 86400;
        double growth = limit == 0 ? 0 : limit * (1 - Math.exp(-days / timeConstantDays));
        return step + perDay * days + growth;
    }

    public Fault shifted(double seconds) {
        return new Fault(kind, target, point, fromS + seconds, untilS + seconds, step, perDay, limit, timeConstantDays);
    }
}
