package io.loopwarden.virtual.plant;

/**
 * An equal-percentage control valve (inherent characteristic R^(x−1), IEC 60534-2-4), with a short linear run to closed.
 *
 * @param openResistancePaS2PerM6 resistance to a volume flow squared, fully open
 */
public record ControlValve(double openResistancePaS2PerM6) {

    private static final double RANGEABILITY = 50;
    private static final double LINEAR_BELOW = 0.05;
    /** Seat leakage relative to fully open, so that the flow is never exactly nought. */
    private static final double LEAKAGE = 1e-4;

    /** Flow coefficient relative to fully open. */
    public double relativeCapacity(double position) {
        double x = Math.max(0, Math.min(1, position));
        if (x < LINEAR_BELOW) {
            return LEAKAGE + x / LINEAR_BELOW * (inherent(LINEAR_BELOW) - LEAKAGE);
        }
        return inherent(x);
    }

    public double resistancePaS2PerM6(double position) {
        double capacity = relativeCapacity(position);
        return openResistancePaS2PerM6 / (capacity * capacity);
    }

    private static double inherent(double x) {
        return Math.exp(Math.log(RANGEABILITY) * (x - 1));
    }
}
