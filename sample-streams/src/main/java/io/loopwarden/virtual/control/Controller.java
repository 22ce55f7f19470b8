package io.loopwarden.virtual.control;

import io.loopwarden.virtual.plant.Actuators;
import io.loopwarden.virtual.plant.Condition;

/**
 * A unit's own controller: it holds loop differential pressure by pump speed and approach by the facility valve, tops up the
 * reservoir, changes duty and standby pump over every week and starts the standby when one pump is not enough.
 */
public final class Controller {

    private static final double LEAST_SPEED = 0.3;
    private static final double SPEED_RATE_PER_S = 0.05;
    private static final double VALVE_STROKE_S = 90;
    private static final double VALVE_RESOLUTION = 0.001;
    private static final double CHANGE_OVER_S = 7 * 86400;
    private static final double MAKEUP_BELOW = 0.35;
    private static final double MAKEUP_UNTIL = 0.5;
    private static final double MAKEUP_M3_PER_S = 0.1e-3;
    private static final double HELP_AFTER_S = 60;
    private static final double ENOUGH_BELOW = 0.65;
    private static final double RELEASE_AFTER_S = 900;

    private final Actuators actuators;
    private final Setpoints setpoints;
    private final Pi dpLoop = new Pi(0.12, 5);
    private final Pi approachLoop = new Pi(0.015, 45);
    private final long[] starts;
    private final double[] runTimeS;
    private int duty;
    private double sinceChangeOverS;
    private double shortOfHeadS;
    private double amplyS;
    private boolean bothRun;
    private double speedCommand = 0.8;
    private double valveCommand = 0.4;
    private boolean stemMoves;
    private boolean makeupRuns;
    private double heartbeatS;

    /**
     * @param sinceChangeOverS how long the first pump has been on duty already
     * @param priorHours run time that each pump brings along
     */
    public Controller(Actuators actuators, Setpoints setpoints, double sinceChangeOverS, double priorHours) {
        this.actuators = actuators;
        this.setpoints = setpoints;
        this.sinceChangeOverS = sinceChangeOverS;
        starts = new long[actuators.pumpSpeed.length];
        runTimeS = new double[actuators.pumpSpeed.length];
        for (int i = 0; i < starts.length; i++) {
            runTimeS[i] = priorHours * 3600 * (1 - 0.03 * i);
            starts[i] = Math.round(priorHours / 336);
        }
    }

    public Setpoints setpoints() {
        return setpoints;
    }

    /** One cycle of control from what the sensors say. */
    public void control(double dpPa, double approachK, double level, Condition condition, double dtS) {
        holdDp(dpPa, dtS);
        holdApproach(approachK, condition, dtS);
        housekeeping(dpPa, level, dtS);
    }

    /** The part of a cycle that does not depend on quick loops; for coarse steps. */
    public void housekeeping(double dpPa, double level, double dtS) {
        heartbeatS += dtS;
        sinceChangeOverS += dtS;
        topUp(level);
        callForHelp(dpPa, dtS);
        letGo(dtS);
        changeOver();
        for (int i = 0; i < runTimeS.length; i++) {
            runTimeS[i] += actuators.pumpSpeed[i] > 0.02 ? dtS : 0;
        }
    }

    /** After coarse steps: takes over where the actuators are. */
    public void adopt() {
        speedCommand = actuators.pumpSpeed[duty];
        valveCommand = actuators.valvePosition;
    }

    private void holdDp(double dpPa, double dtS) {
        double error = (setpoints.tcsDpPa() - dpPa) / setpoints.tcsDpPa();
        speedCommand = clamp(speedCommand + dpLoop.move(error, dtS), LEAST_SPEED, 1);
        for (int i = 0; i < actuators.pumpSpeed.length; i++) {
            double target = i == duty || bothRun ? speedCommand : 0;
            actuators.pumpSpeed[i] = towards(actuators.pumpSpeed[i], target, SPEED_RATE_PER_S * dtS);
        }
    }

    /** A sticking stem waits until its drive is far ahead, then slips all the way; a tight loop then hunts. */
    private void holdApproach(double approachK, Condition condition, double dtS) {
        double stiction = condition.valveStiction;
        double move = condition.valveTightness * approachLoop.move(approachK - setpoints.approachK(), dtS);
        valveCommand = clamp(valveCommand + move, 0.03, 1);
        double away = Math.abs(valveCommand - actuators.valvePosition);
        stemMoves = away > VALVE_RESOLUTION && (stemMoves || away > stiction);
        if (stemMoves) {
            actuators.valvePosition = towards(actuators.valvePosition, valveCommand, dtS / VALVE_STROKE_S);
        }
    }

    private void topUp(double level) {
        if (level < MAKEUP_BELOW) {
            makeupRuns = true;
        } else if (level > MAKEUP_UNTIL) {
            makeupRuns = false;
        }
        actuators.makeupM3PerS = makeupRuns ? MAKEUP_M3_PER_S : 0;
    }

    private void callForHelp(double dpPa, double dtS) {
        boolean isShort = actuators.pumpSpeed[duty] > 0.99 && dpPa < 0.9 * setpoints.tcsDpPa();
        shortOfHeadS = isShort ? shortOfHeadS + dtS : 0;
        if (shortOfHeadS > HELP_AFTER_S && !bothRun && actuators.pumpSpeed.length > 1) {
            bothRun = true;
            starts[(duty + 1) % starts.length]++;
        }
    }

    /** One pump is enough again once both turn slowly for a while. */
    private void letGo(double dtS) {
        amplyS = bothRun && actuators.pumpSpeed[duty] < ENOUGH_BELOW ? amplyS + dtS : 0;
        if (amplyS > RELEASE_AFTER_S) {
            bothRun = false;
            amplyS = 0;
        }
    }

    public boolean bothRun() {
        return bothRun;
    }

    private void changeOver() {
        if (sinceChangeOverS < CHANGE_OVER_S || bothRun || actuators.pumpSpeed.length < 2) {
            return;
        }
        sinceChangeOverS = 0;
        int next = (duty + 1) % actuators.pumpSpeed.length;
        actuators.pumpSpeed[next] = actuators.pumpSpeed[duty];
        actuators.pumpSpeed[duty] = 0;
        duty = next;
        starts[duty]++;
    }

    private static double towards(double from, double to, double most) {
        return from + clamp(to - from, -most, most);
    }

    private static double clamp(double value, double low, double high) {
        return Math.max(low, Math.min(high, value));
    }

    public double valveCommand() {
        return valveCommand;
    }

    public boolean makeupRuns() {
        return makeupRuns;
    }

    public long starts(int pump) {
        return starts[pump];
    }

    public double runTimeS(int pump) {
        return runTimeS[pump];
    }

    /** Counts cycles of one second. */
    public long heartbeat() {
        return (long) heartbeatS;
    }
}
