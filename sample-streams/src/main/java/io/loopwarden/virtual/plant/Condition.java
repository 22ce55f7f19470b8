package io.loopwarden.virtual.plant;

import java.util.Arrays;

/** The hidden state of a unit's parts, the truth that no controller shows. Changed by faults as time goes on. */
public final class Condition {

    /** Thermal resistance of deposits on the FWS side of each exchanger, m2·K/W. */
    public final double[] foulingM2KPerW;
    /** Flow share of each exchanger relative to an even split, TCS side; 1 is even. */
    public final double[] flowShare;
    /** Resistance of each filter element relative to clean. */
    public final double[] filterLoading;
    /** Share of head that each pump has lost. */
    public final double[] pumpWear;
    /** Resistance of the facility strainer relative to clean. */
    public double strainerLoading = 1;

    public double leakM3PerS;
    /** A hole between the loops: what passes at a pressure difference of 100 kPa. */
    public double pinholeM3PerS;
    /** What somebody puts in by hand; negative if taken out. */
    public double pouredM3PerS;
    /** By how much the pumps at full speed hold the reservoir's level down. */
    public double sloshM3;
    /** Where the leak shows: into the tray of the unit, or under the racks at the rope. */
    public boolean leakAtTray;
    /** Travel that the valve's stem sticks over before it follows its command. */
    public double valveStiction;
    /** Gain of the facility valve's loop, over the right one. */
    public double valveTightness = 1;
    /** Share of the racks' conductance that is blocked. */
    public double rackBlockage;
    /** Standard deviation of each pump's head, as a share of it. */
    public final double[] pumpRestlessness;
    /** The controller has stopped: nothing is controlled, nothing is sent. */
    public boolean controllerLost;

    public Condition(int exchangers, int filters, int pumps) {
        foulingM2KPerW = new double[exchangers];
        flowShare = new double[exchangers];
        filterLoading = new double[filters];
        pumpWear = new double[pumps];
        pumpRestlessness = new double[pumps];
        reset();
    }

    /** Back to new. */
    public void reset() {
        Arrays.fill(foulingM2KPerW, 0);
        Arrays.fill(flowShare, 1);
        Arrays.fill(filterLoading, 1);
        Arrays.fill(pumpWear, 0);
        strainerLoading = 1;
        leakM3PerS = 0;
        pinholeM3PerS = 0;
        pouredM3PerS = 0;
        sloshM3 = 0;
        leakAtTray = false;
        valveStiction = 0;
        valveTightness = 1;
        rackBlockage = 0;
        Arrays.fill(pumpRestlessness, 0);
        controllerLost = false;
    }
}
