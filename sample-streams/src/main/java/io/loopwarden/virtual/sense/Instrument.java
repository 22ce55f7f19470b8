package io.loopwarden.virtual.sense;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.SensorClass;
import java.util.random.RandomGenerator;

/**
 * How one sensor differs from the truth.
 *
 * @param offset constant, in the point's inner unit
 * @param gain of reading; 1 is none
 * @param noise standard deviation
 * @param noiseOfReading standard deviation relative to the value
 * @param quantum smallest step of the value; 0 for none
 * @param lagS time constant
 * @param low least value that can be shown
 */
public record Instrument(
        double offset, double gain, double noise, double noiseOfReading, double quantum, double lagS, double low) {

    static final Instrument EXACT = new Instrument(0, 1, 0, 0, 0, 0, Double.NEGATIVE_INFINITY);

    /** A sensor of that class; its constant error lies evenly within 80 % of the class's limit, the rest is left to noise. */
    static Instrument draw(PointName point, SensorClass accuracy, RandomGenerator random) {
        double even = 0.8 * (2 * random.nextDouble() - 1);
        double anywhere = Double.NEGATIVE_INFINITY;
        return switch (point.quantity()) {
            case TEMPERATURE ->
                new Instrument(
                        even * (accuracy.temperatureLimitK() + accuracy.temperatureLimitPerK() * 40),
                        1,
                        0.012,
                        0,
                        0.01,
                        4,
                        anywhere);
            case VOLUME_FLOW -> new Instrument(0, 1 + even * accuracy.flowLimitRatio(), 0, 0.002, 1e-6, 1.5, 0);
            case DIFFERENTIAL_PRESSURE ->
                isSetpoint(point)
                        ? EXACT
                        : new Instrument(even * accuracy.pressureLimitPa() * 0.4, 1, 80, 0.001, 10, 1, 0);
            case GAUGE_PRESSURE -> new Instrument(even * accuracy.pressureLimitPa(), 1, 150, 0, 50, 1, 0);
            case POWER -> new Instrument(0, 1 + 0.01 * even, 5, 0.003, 10, 2, 0);
            case CONDUCTIVITY -> new Instrument(0, 1 + 0.02 * even, 0, 0.003, 1e-5, 30, 0);
            case PH -> new Instrument(0.1 * even, 1, 0.005, 0, 0.01, 30, 0);
            case RATIO ->
                point.value().equals("reservoir.level")
                        ? new Instrument(0.005 * even, 1, 0.0015, 0, 0.001, 5, 0)
                        : new Instrument(0, 1, 0, 0, 1e-4, 0, 0);
            case VOLUME -> new Instrument(0, 1, 0, 0, 1e-4, 0, 0);
            case TEMPERATURE_DIFFERENCE, DURATION, FLAG, COUNT -> EXACT;
        };
    }

    private static boolean isSetpoint(PointName point) {
        return point.value().endsWith("setpoint");
    }
}
