package io.loopwarden.inventory;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fluid.Coolant;

/** Everything beside the content that can speak for or against a leak. For one thread. */
final class Witnesses {

    private static final double STAGNANT_PER_ROOT_H = 3e-3;
    private static final double MOST_DRIVER = 2;
    private static final double DRIVER_LEARNING = 1.0 / 720;

    private final WetSwitch tray = new WetSwitch();
    private final WetSwitch rope = new WetSwitch();
    private final FlowImbalance flow;
    private final PressureWitness pressure = new PressureWitness();
    private final PressureDecay decay;
    private final Drift drift = new Drift();
    private boolean pressuresKnown;
    private double meanDriver;

    Witnesses(Nameplate nameplate, Coolant coolant, double loopL, LeakSettings settings) {
        flow = new FlowImbalance(coolant, nameplate.ratedTcsFlowM3PerS(), settings.falseAlarmYears());
        decay = new PressureDecay(loopL, STAGNANT_PER_ROOT_H);
    }

    void accept(LoopMinute minute, Balance balance, boolean suspected) {
        tray.accept(minute.of(LoopPoint.TRAY));
        rope.accept(minute.of(LoopPoint.ROPE));
        flow.accept(minute, balance.settled() && balance.running(), suspected);
        decay.accept(balance.running(), minute.of(LoopPoint.RETURN_PRESSURE), pressure);
        drift.accept(minute.of(LoopPoint.CONDUCTIVITY));
    }

    /**
     * What drives coolant through a hole between the loops: the root of the pressure difference, positive out of the TCS; 0
     * where no pressures are known.
     */
    double crossDriver(LoopMinute minute, double referencePa) {
        Span supply = minute.of(LoopPoint.SUPPLY_PRESSURE);
        Span back = minute.of(LoopPoint.RETURN_PRESSURE);
        Span fws = minute.of(LoopPoint.FWS_PRESSURE);
        boolean seen = fws.seen() && (supply.seen() || back.seen());
        pressuresKnown |= seen;
        double driver = 0;
        if (pressuresKnown) {
            double difference = seen ? (supply.seen() ? supply : back).mean() - fws.mean() : 0;
            double root = Math.sqrt(Math.abs(difference) / referencePa);
            driver = Math.signum(difference) * Math.min(MOST_DRIVER, root);
        }
        meanDriver += DRIVER_LEARNING * (driver - meanDriver);
        return driver;
    }

    /** On the whole, coolant would leave the TCS through a hole between the loops. */
    boolean outward() {
        return meanDriver > 0;
    }

    /** Root of the pressure difference, in units of 100 kPa, over the last hours. */
    double meanDriver() {
        return meanDriver;
    }

    WetSwitch tray() {
        return tray;
    }

    WetSwitch rope() {
        return rope;
    }

    FlowImbalance flow() {
        return flow;
    }

    PressureWitness pressure() {
        return pressure;
    }

    PressureDecay decay() {
        return decay;
    }

    Drift drift() {
        return drift;
    }
}
