package io.loopwarden.watch;

import io.loopwarden.fleet.Quantity;

/** Values that a quantity can have anywhere in a coolant loop, in its inner unit; what is outside is a mistake, not a state. */
record PossibleRange(double least, double most) {

    private static final PossibleRange TEMPERATURE_C = new PossibleRange(-50, 200);
    private static final PossibleRange FLOW_M3_PER_S = new PossibleRange(-10, 10);
    private static final PossibleRange PRESSURE_PA = new PossibleRange(-1e8, 1e8);
    private static final PossibleRange POSITION = new PossibleRange(-0.5, 1.5);
    private static final PossibleRange DIFFERENCE_K = new PossibleRange(-250, 250);
    private static final PossibleRange POWER_W = new PossibleRange(-1e9, 1e9);
    private static final PossibleRange FINITE = new PossibleRange(-Double.MAX_VALUE, Double.MAX_VALUE);

    static PossibleRange of(Quantity quantity) {
        return switch (quantity) {
            case TEMPERATURE -> TEMPERATURE_C;
            case VOLUME_FLOW -> FLOW_M3_PER_S;
            case DIFFERENTIAL_PRESSURE, GAUGE_PRESSURE -> PRESSURE_PA;
            case TEMPERATURE_DIFFERENCE -> DIFFERENCE_K;
            case POWER -> POWER_W;
            case RATIO, FLAG -> POSITION;
            default -> FINITE;
        };
    }

    boolean contains(double value) {
        return value >= least && value <= most;
    }
}
