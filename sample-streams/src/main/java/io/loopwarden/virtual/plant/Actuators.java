package io.loopwarden.virtual.plant;

/** Where pumps, valve and make-up are; moved by the controller, limited by their own rates. */
public final class Actuators {

    public final double[] pumpSpeed;
    public double valvePosition = 0.4;
    public double makeupM3PerS;

    public Actuators(int pumps) {
        pumpSpeed = new double[pumps];
        pumpSpeed[0] = 0.8;
    }
}
