package io.loopwarden.fleetfile;

import io.loopwarden.fleet.Quantity;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.pointmap.Measure;
import io.loopwarden.yaml.YamlMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads the accuracy of a unit's instruments; what is not given is {@link SensorClass#DEFAULT}. */
final class SensorsField {

    private record Tolerance(double limitK, double limitPerK) {}

    /** IEC 60751:2022 table 1, resistance thermometers: limit at 0 °C and its growth with |t|. */
    private static final Map<String, Tolerance> CLASSES = new LinkedHashMap<>();

    static {
        CLASSES.put("AA", new Tolerance(0.1, 0.0017));
        CLASSES.put("A", new Tolerance(0.15, 0.002));
        CLASSES.put("B", new Tolerance(0.3, 0.005));
        CLASSES.put("C", new Tolerance(0.6, 0.01));
    }

    private SensorsField() {}

    static Optional<SensorClass> read(YamlMap top, String key) {
        return top.has(key) ? top.map(key).flatMap(SensorsField::read) : Optional.of(SensorClass.DEFAULT);
    }

    private static Optional<SensorClass> read(YamlMap sensors) {
        sensors.refuseOthers(List.of("temperature-class", "temperature-limit", "flow-limit", "pressure-limit"));
        Optional<Tolerance> temperature = temperature(sensors);
        OptionalDouble flow = limit(sensors, "flow-limit", Quantity.RATIO, SensorClass.DEFAULT.flowLimitRatio());
        OptionalDouble pressure =
                limit(sensors, "pressure-limit", Quantity.DIFFERENTIAL_PRESSURE, SensorClass.DEFAULT.pressureLimitPa());
        if (temperature.isEmpty() || flow.isEmpty() || pressure.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new SensorClass(
                temperature.get().limitK(), temperature.get().limitPerK(), flow.getAsDouble(), pressure.getAsDouble()));
    }

    private static Optional<Tolerance> temperature(YamlMap sensors) {
        if (sensors.has("temperature-class") && sensors.has("temperature-limit")) {
            sensors.fault("temperature-limit", "and temperature-class are both given, keep one");
            return Optional.empty();
        }
        if (sensors.has("temperature-class")) {
            return sensors.choice("temperature-class", CLASSES);
        }
        OptionalDouble limit = limit(sensors, "temperature-limit", Quantity.TEMPERATURE_DIFFERENCE, Double.NaN);
        if (limit.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                Double.isNaN(limit.getAsDouble())
                        ? new Tolerance(
                                SensorClass.DEFAULT.temperatureLimitK(), SensorClass.DEFAULT.temperatureLimitPerK())
                        : new Tolerance(limit.getAsDouble(), 0));
    }

    private static OptionalDouble limit(YamlMap sensors, String key, Quantity quantity, double fallback) {
        if (!sensors.has(key)) {
            return OptionalDouble.of(fallback);
        }
        OptionalDouble value = Measure.read(sensors, key, quantity);
        if (value.isPresent() && !(value.getAsDouble() >= 0)) {
            sensors.fault(key, "must not be negative");
            return OptionalDouble.empty();
        }
        return value;
    }
}
