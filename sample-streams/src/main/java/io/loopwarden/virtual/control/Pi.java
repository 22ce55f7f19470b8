package io.loopwarden.virtual.control;

/** A proportional–integral controller in velocity form: limits of the output need no further care against wind-up. */
final class Pi {

    private final double gain;
    private final double integralS;
    private double lastError;

    Pi(double gain, double integralS) {
        this.gain = gain;
        this.integralS = integralS;
    }

    /** By how much the output should move for that error in a step. */
    double move(double error, double dtS) {
        double move = gain * (error - lastError + error * dtS / integralS);
        lastError = error;
        return move;
    }
}
