package io.loopwarden.virtual;

import io.loopwarden.fleet.Quantity;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;

/** What a unit's sensors showed before the fleet went live: a file with a row a minute. */
final class History {

    private static final Duration STEP = Duration.ofMinutes(1);

    private record Shown(String ucum, double factor, int decimals) {}

    private History() {}

    /** Lets a unit run until an instant, and writes {@code time}, then {@code point [UCUM]}, into a file of its name. */
    static void write(VirtualUnit unit, Instant until, Path folder) {
        try {
            Files.createDirectories(folder);
            try (Writer out = Files.newBufferedWriter(folder.resolve(unit.id() + ".csv"), StandardCharsets.UTF_8)) {
                header(unit, out);
                StringBuilder row = new StringBuilder();
                while (unit.now().plus(STEP).isBefore(until)) {
                    unit.coarseStep(STEP);
                    if (unit.alive()) {
                        row(unit.readings(), row);
                        out.append(row);
                        row.setLength(0);
                    }
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void header(VirtualUnit unit, Writer out) throws IOException {
        out.write("time");
        for (var point : unit.points()) {
            out.write("," + point + " [" + shown(point.quantity()).ucum() + "]");
        }
        out.write("\n");
    }

    private static void row(Readings readings, StringBuilder row) {
        row.append(readings.at());
        for (int i = 0; i < readings.size(); i++) {
            row.append(',');
            if (readings.isBad(i)) {
                row.append("NaN");
            } else {
                Shown shown = shown(readings.point(i).quantity());
                append(readings.value(i) * shown.factor(), shown.decimals(), row);
            }
        }
        row.append('\n');
    }

    /** Fixed decimals without the cost of a formatter: a month of a fleet is tens of millions of numbers. */
    private static void append(double value, int decimals, StringBuilder row) {
        long scale = 1;
        for (int i = 0; i < decimals; i++) {
            scale *= 10;
        }
        double scaled = value * scale;
        if (!(Math.abs(scaled) < 1e15)) {
            row.append(String.format(Locale.ROOT, "%s", value));
            return;
        }
        long whole = Math.round(scaled);
        if (whole < 0) {
            row.append('-');
        }
        long magnitude = Math.abs(whole);
        row.append(magnitude / scale);
        if (decimals > 0) {
            String fraction = Long.toString(scale + magnitude % scale);
            row.append('.').append(fraction, 1, fraction.length());
        }
    }

    private static Shown shown(Quantity quantity) {
        return switch (quantity) {
            case TEMPERATURE -> new Shown("Cel", 1, 3);
            case TEMPERATURE_DIFFERENCE -> new Shown("K", 1, 3);
            case GAUGE_PRESSURE, DIFFERENTIAL_PRESSURE -> new Shown("kPa", 1e-3, 3);
            case VOLUME_FLOW -> new Shown("L/min", 60e3, 3);
            case RATIO -> new Shown("%", 100, 3);
            case POWER -> new Shown("kW", 1e-3, 4);
            case VOLUME -> new Shown("L", 1e3, 3);
            case DURATION -> new Shown("s", 1, 0);
            case CONDUCTIVITY -> new Shown("uS/cm", 1e4, 3);
            case PH -> new Shown("[pH]", 1, 3);
            case FLAG, COUNT -> new Shown("1", 1, 0);
        };
    }
}
