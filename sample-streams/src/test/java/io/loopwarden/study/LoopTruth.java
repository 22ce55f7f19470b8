package io.loopwarden.study;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.inventory.LoopPoint;
import io.loopwarden.virtual.plant.Coolant;
import java.util.SplittableRandom;

/**
 * A light truth of one loop for leak studies: coolant by mass, temperatures, pumps, reservoir and its sensor, without the rest of a
 * unit. Its properties and its physics are those of the virtual units, not of the judge.
 */
final class LoopTruth {

    static final double LOOP_L = 400;
    static final double RESERVOIR_L = 150;
    static final double LEVEL_NOISE = 0.002;
    static final double LEVEL_STEP = 0.0005;
    static final double RATED_FLOW_M3_PER_S = 0.00833;

    private static final double DAY_S = 86400;
    private static final double MAKEUP_L_PER_S = 0.1;
    private static final double SWING_S = 15;

    /** Which disturbances there are. */
    record Conditions(
            boolean startStops, boolean topUps, boolean temperatureRamps, boolean sensorFaults, boolean makeup) {
        static final Conditions ALL = new Conditions(true, true, true, true, true);
        static final Conditions CALM = new Conditions(false, false, false, false, true);
    }

    private final SplittableRandom random;
    private final Conditions conditions;
    private final Coolant coolant;
    private final double supplyShare;
    private final double returnShare;
    private final double ambientShare;
    private final double pipeExpansionPerK;
    private final double sloshL;
    private final double baseSupplyC;
    private final double baseLoad;
    private final double offsetC;
    private final double flowGain;
    private final double permeationLPerH;
    private final double fwsOffsetPa;
    private double kg;
    private double t;
    private double supplyC;
    private double returnC;
    private double shownSupplyC;
    private double shownReturnC;
    private double unseenK;
    private double speed;
    private double swingL;
    private double loadNoise;
    private double rampC;
    private double rampTargetC;
    private double nextRampS;
    private double nextStopS;
    private double stopUntilS = -1;
    private double nextTopUpS;
    private double topUpLPerS;
    private double topUpUntilS = -1;
    private double nextNoiseS;
    private double noiseUntilS = -1;
    private double noiseFactor = 1;
    private double nextStuckS;
    private double stuckUntilS = -1;
    private double shownLevel;
    private boolean makeupRuns;
    private double madeUpL;
    private double leakLPerH;
    private double lostL;
    private double extraLPerS;
    private double sensorOffsetRatio;
    private double sensorDriftPerS;
    private double pinholeLPerH;
    private boolean reachesTray;
    private boolean falseWet;
    private boolean running = true;
    private double flow;

    LoopTruth(SplittableRandom random, Conditions conditions, boolean glycol) {
        this.random = random;
        this.conditions = conditions;
        coolant = new Coolant(glycol ? new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25) : CoolantSpec.WATER);
        supplyShare = between(0.3, 0.5);
        ambientShare = between(0, 0.08);
        returnShare = 1 - supplyShare - ambientShare;
        pipeExpansionPerK = between(3.4e-5, 5.2e-5);
        sloshL = between(-1, 5);
        baseSupplyC = between(28, 38);
        baseLoad = between(0.4, 0.7);
        offsetC = between(-0.25, 0.25);
        flowGain = between(0.99, 1.01);
        permeationLPerH = between(0, 0.006);
        fwsOffsetPa = random.nextBoolean() ? 70e3 : -70e3;
        supplyC = baseSupplyC;
        returnC = baseSupplyC + 6;
        shownSupplyC = supplyC;
        shownReturnC = returnC;
        speed = 0.7;
        kg = inLoopKg() + 0.65 * RESERVOIR_L * 1e-3 * coolant.densityKgPerM3(returnC);
        nextRampS = next(3);
        nextStopS = next(10);
        nextTopUpS = next(30);
        nextNoiseS = next(60);
        nextStuckS = next(90);
    }

    private double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    private double next(double meanDays) {
        return t - meanDays * DAY_S * Math.log(1 - random.nextDouble());
    }

    void leak(double litresPerHour) {
        leakLPerH = litresPerHour;
    }

    /** Coolant put in, or taken out if negative, until told otherwise. */
    void pour(double litresPerSecond) {
        extraLPerS = litresPerSecond;
    }

    /** The sensor drifts as if so much went away, though nothing does. */
    void sensorDrift(double litresPerHour) {
        sensorDriftPerS = -litresPerHour / 3600 / RESERVOIR_L;
    }

    /** A hole between the loops that passes so much at a pressure difference of 100 kPa. */
    void pinhole(double litresPerHour) {
        pinholeLPerH = litresPerHour;
    }

    /** Whether what leaks runs into the tray. */
    void leakReachesTray(boolean reaches) {
        reachesTray = reaches;
    }

    void falseWet() {
        falseWet = true;
    }

    private double supplyPressurePa() {
        return 180e3 + 220e3 * speed * speed;
    }

    /** Facility pressure swings with the neighbours, above and below the loop's. */
    private double fwsPressurePa() {
        return 300e3 + fwsOffsetPa + 60e3 * Math.cos(2 * Math.PI * t / 20000);
    }

    /** On the whole, coolant would go from the loop into the facility water. */
    boolean outward() {
        return fwsOffsetPa < 0;
    }

    void stuckFor(double seconds) {
        stuckUntilS = t + seconds;
    }

    void noisyFor(double seconds, double factor) {
        noiseFactor = factor;
        noiseUntilS = t + seconds;
    }

    double level() {
        double left = (kg - inLoopKg()) / coolant.densityKgPerM3(returnC) * 1000;
        double moved = left - sloshL * speed * speed + swingL;
        return Math.max(0, Math.min(1, moved / RESERVOIR_L));
    }

    private double inLoopKg() {
        double meanC = supplyShare * supplyC + (1 - supplyShare) * returnC;
        double volume = LOOP_L * 1e-3 * (1 + pipeExpansionPerK * (meanC - 35));
        return volume
                * (supplyShare * coolant.densityKgPerM3(supplyC + unseenK)
                        + returnShare * coolant.densityKgPerM3(returnC + unseenK)
                        + ambientShare * coolant.densityKgPerM3(26));
    }

    void step(double dt) {
        t += dt;
        loads(dt);
        pumps(dt);
        temperatures(dt);
        coolant(dt);
        sense(dt);
    }

    private void loads(double dt) {
        loadNoise += -loadNoise * dt / 1800 + 0.03 * Math.sqrt(2 * dt / 1800) * random.nextGaussian();
        if (conditions.temperatureRamps() && t >= nextRampS) {
            rampTargetC = between(-5, 5);
            nextRampS = next(3);
        }
        double rate = 5.0 / 3600 * dt;
        rampC += Math.max(-rate, Math.min(rate, rampTargetC - rampC));
    }

    private double load() {
        double phase = (t % 21600) / 21600;
        double run = phase < 0.4 ? Math.min(1, phase * 36) : Math.max(0, 1 - (phase - 0.4) * 36);
        double day = 0.04 * Math.cos(2 * Math.PI * (t / DAY_S - 0.6));
        return Math.max(0.05, Math.min(1, baseLoad + 0.25 * run + day + loadNoise));
    }

    private void pumps(double dt) {
        if (conditions.startStops() && t >= nextStopS && stopUntilS < t) {
            stopUntilS = t + between(600, 3 * 3600);
            nextStopS = stopUntilS + next(10) - t;
        }
        boolean runs = t >= stopUntilS;
        if (runs != running) {
            swingL = runs ? -2 : 2;
            running = runs;
        }
        double target = runs ? 0.55 + 0.35 * load() : 0;
        double most = (runs ? 0.05 : 0.1) * dt;
        speed += Math.max(-most, Math.min(most, target - speed));
        swingL *= -Math.exp(-dt / SWING_S);
        if (dt > 10) {
            swingL = 0;
        }
        flow = RATED_FLOW_M3_PER_S * speed / 0.9;
    }

    private void temperatures(double dt) {
        double a = 1 - Math.exp(-dt / 3600);
        unseenK += -unseenK * dt / 10800 + 0.12 * Math.sqrt(2 * dt / 10800) * random.nextGaussian();
        if (running) {
            double quick = 1 - Math.exp(-dt / 120);
            double supplyTarget = baseSupplyC + rampC + 0.8 * Math.cos(2 * Math.PI * (t / DAY_S - 0.65));
            supplyC += quick * (supplyTarget - supplyC);
            double rise = 9 * load() / Math.max(0.3, speed / 0.9);
            returnC += quick * (supplyC + rise - returnC);
            double show = 1 - Math.exp(-dt / 6);
            shownSupplyC += show * (supplyC - shownSupplyC);
            shownReturnC += show * (returnC - shownReturnC);
        } else {
            double slow = 1 - Math.exp(-dt / (3 * 3600));
            supplyC += slow * (26 - supplyC);
            returnC += slow * (26 - returnC);
            shownSupplyC += a * (26 - shownSupplyC);
            shownReturnC += a * (26 - shownReturnC);
        }
    }

    private void coolant(double dt) {
        sensorOffsetRatio += sensorDriftPerS * dt;
        double difference = supplyPressurePa() - fwsPressurePa();
        double through = pinholeLPerH * Math.signum(difference) * Math.sqrt(Math.abs(difference) / 100e3);
        kg -= through / 3600 * dt * 1e-3 * coolant.densityKgPerM3(returnC);
        double out = (leakLPerH + permeationLPerH) / 3600 * dt;
        lostL += leakLPerH / 3600 * dt;
        double in = extraLPerS * dt;
        if (conditions.topUps() && t >= nextTopUpS) {
            double litres = Math.min(between(4, 25), (0.9 - level()) * RESERVOIR_L);
            double over = between(60, 600);
            topUpLPerS = Math.max(0, litres / over);
            topUpUntilS = t + over;
            nextTopUpS = next(30);
        }
        if (t < topUpUntilS) {
            in += topUpLPerS * dt;
        }
        if (conditions.makeup()) {
            makeupRuns = makeupRuns ? level() < 0.55 : level() < 0.4;
            if (makeupRuns) {
                double made = Math.min(MAKEUP_L_PER_S * dt, Math.max(0, 0.6 - level()) * RESERVOIR_L);
                in += made;
                madeUpL += made;
            }
        }
        kg += (in - out) * 1e-3 * coolant.densityKgPerM3(returnC);
    }

    private void sense(double dt) {
        if (conditions.sensorFaults() && t >= nextNoiseS) {
            noiseFactor = between(2, 8);
            noiseUntilS = t + between(600, 12 * 3600);
            nextNoiseS = noiseUntilS + next(60) - t;
        }
        if (conditions.sensorFaults() && t >= nextStuckS) {
            stuckUntilS = t + between(600, 24 * 3600);
            nextStuckS = stuckUntilS + next(90) - t;
        }
        if (t < stuckUntilS) {
            return;
        }
        double noise = LEVEL_NOISE * (t < noiseUntilS ? noiseFactor : 1);
        double value = level() + sensorOffsetRatio + noise * random.nextGaussian();
        shownLevel = Math.max(0, Math.rint(value / LEVEL_STEP) * LEVEL_STEP);
    }

    double timeS() {
        return t;
    }

    double shown(LoopPoint point) {
        return switch (point) {
            case LEVEL -> shownLevel;
            case SUPPLY_TEMPERATURE -> round(shownSupplyC + offsetC + 0.012 * random.nextGaussian(), 0.01);
            case RETURN_TEMPERATURE -> round(shownReturnC - offsetC + 0.012 * random.nextGaussian(), 0.01);
            case SPEED_1 -> round(speed, 1e-4);
            case FLOW -> Math.max(0, flow * (1 + 0.002 * random.nextGaussian()));
            case RETURN_FLOW -> returnFlow();
            case MAKEUP_VOLUME -> Math.floor(madeUpL * 10) / 1e4;
            case SUPPLY_PRESSURE -> round(supplyPressurePa() + 150 * random.nextGaussian(), 50);
            case FWS_PRESSURE -> round(fwsPressurePa() + 150 * random.nextGaussian(), 50);
            case TRAY -> falseWet || reachesTray && lostL > 0.5 ? 1 : 0;
            case MAKEUP_RUNNING -> makeupRuns ? 1 : 0;
            default -> throw new IllegalArgumentException("this loop does not measure " + point);
        };
    }

    private double returnFlow() {
        double mass = flow * coolant.densityKgPerM3(supplyC) - leakLPerH / 3.6e6 * coolant.densityKgPerM3(returnC);
        return Math.max(0, flowGain * mass / coolant.densityKgPerM3(returnC) * (1 + 0.002 * random.nextGaussian()));
    }

    private static double round(double value, double step) {
        return Math.rint(value / step) * step;
    }
}
