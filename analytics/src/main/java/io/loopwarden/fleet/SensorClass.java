package io.loopwarden.fleet;

/**
 * Accuracy of a unit's instruments, as limits (a tolerance of ±a is read as a rectangular distribution, JCGM 100:2008 4.3.7).
 *
 * @param temperatureLimitK limit at 0 °C, for example 0.15 for IEC 60751 class A
 * @param temperatureLimitPerK growth of the limit with |t| in °C, for example 0.002 for class A
 * @param flowLimitRatio limit of flow meters, of reading, for example 0.01
 * @param pressureLimitPa limit of pressure and differential pressure sensors
 */
public record SensorClass(
        double temperatureLimitK, double temperatureLimitPerK, double flowLimitRatio, double pressureLimitPa) {

    /** IEC 60751 class A platinum sensors, flow ±1 % of reading, pressure ±1 kPa. */
    public static final SensorClass DEFAULT = new SensorClass(0.15, 0.002, 0.01, 1000);

    public SensorClass {
        requireNotNegative("temperature limit (K)", temperatureLimitK);
        requireNotNegative("temperature limit per K", temperatureLimitPerK);
        requireNotNegative("flow limit (ratio)", flowLimitRatio);
        requireNotNegative("pressure limit (Pa)", pressureLimitPa);
    }

    public double temperatureStandardUncertaintyK(double temperatureC) {
        return (temperatureLimitK + temperatureLimitPerK * Math.abs(temperatureC)) / Math.sqrt(3);
    }

    public double flowStandardUncertaintyRatio() {
        return flowLimitRatio / Math.sqrt(3);
    }

    public double pressureStandardUncertaintyPa() {
        return pressureLimitPa / Math.sqrt(3);
    }

    private static void requireNotNegative(String name, double value) {
        if (!(value >= 0) || Double.isInfinite(value)) {
            throw new IllegalArgumentException(name + " is " + value + ", must be finite and >= 0");
        }
    }
}
