package io.loopwarden.virtual.fault;

import io.loopwarden.virtual.plant.Condition;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** All faults of one unit, and what they do to its parts. Faults may be added while it runs. */
public final class Faults {

    private static final double LITRE = 1e-3;
    private static final double LITRE_PER_HOUR = LITRE / 3600;

    /** A sticking stem alone does not hunt; with so much gain added it does. */
    private static final double HUNTING_TIGHTNESS = 5;

    private final List<Fault> faults;

    public Faults(List<Fault> faults) {
        this.faults = new CopyOnWriteArrayList<>(faults);
    }

    public void add(Fault fault) {
        faults.add(fault);
    }

    public List<Fault> all() {
        return List.copyOf(faults);
    }

    /** Puts the faults of that time on a condition; sensor faults are the instruments' concern. */
    public void apply(Condition condition, double epochS) {
        condition.reset();
        for (Fault fault : faults) {
            double severity = fault.severity(epochS);
            if (severity != 0) {
                apply(fault, severity, condition);
            }
        }
    }

    private static void apply(Fault fault, double severity, Condition condition) {
        switch (fault.kind()) {
            case FOULING -> add(condition.foulingM2KPerW, fault.target(), severity);
            case MALDISTRIBUTION -> add(condition.flowShare, fault.target(), -severity);
            case FILTER_LOADING -> add(condition.filterLoading, fault.target(), severity);
            case PUMP_WEAR -> add(condition.pumpWear, fault.target(), severity);
            case LEAK -> {
                condition.leakM3PerS += severity * LITRE_PER_HOUR;
                condition.leakAtTray |= fault.target() == 1;
            }
            case PINHOLE -> condition.pinholeM3PerS += severity * LITRE_PER_HOUR;
            case STAFF_POURS -> condition.pouredM3PerS += severity * LITRE_PER_HOUR;
            case SLOSHING -> condition.sloshM3 += severity * LITRE;
            case STRAINER_BLOCKAGE -> condition.strainerLoading += severity;
            case HUNTING_VALVE -> {
                condition.valveStiction += severity;
                condition.valveTightness += HUNTING_TIGHTNESS;
            }
            case TIGHT_VALVE_LOOP -> condition.valveTightness += severity;
            case STICKING_VALVE -> condition.valveStiction += severity;
            case RACK_BLOCKAGE -> condition.rackBlockage += severity;
            case CAVITATION -> add(condition.pumpRestlessness, fault.target(), severity);
            case LOST_CONTROLLER -> condition.controllerLost = true;
            case SENSOR_OFFSET, SENSOR_NOISY, SENSOR_CHATTERS, SENSOR_STUCK, SENSOR_DEAD -> {
                // Read by the instruments, not by the plant.
            }
        }
    }

    private static void add(double[] parts, int target, double severity) {
        for (int i = 0; i < parts.length; i++) {
            if (target == 0 || target == i + 1) {
                parts[i] += severity;
            }
        }
    }
}
