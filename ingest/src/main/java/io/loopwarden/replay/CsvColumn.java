package io.loopwarden.replay;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.pointmap.UcumUnits;
import io.loopwarden.pointmap.UnitLookup;
import java.time.Instant;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** One column of a file: {@code point [UCUM]}, for example {@code fws.flow [L/min]}; brackets of a code may stay: {@code [[psi]]}. */
record CsvColumn(PointName point, Conversion conversion) {

    private static final Pattern HEADING = Pattern.compile("\\s*([^\\s\\[]+)\\s*\\[(.+)]\\s*");

    /** What pumping people call the pressure over a pump. */
    private static final Pattern HEAD = Pattern.compile("pump\\.([1-9][0-9]?)\\.head");

    /** @throws ReplayException saying what is wrong with the heading */
    static CsvColumn of(String heading) {
        Matcher parts = HEADING.matcher(heading);
        if (!parts.matches()) {
            throw new ReplayException(
                    "column '" + heading + "' must read 'point [UCUM]', for example 'tcs.supply.temperature [Cel]'");
        }
        try {
            PointName point = PointName.of(HEAD.matcher(parts.group(1)).replaceFirst("pump.$1.dp"));
            UnitLookup unit = UcumUnits.conversion(parts.group(2), point.quantity());
            return new CsvColumn(
                    point,
                    unit.known()
                            .orElseThrow(() -> new ReplayException(
                                    "column '" + heading + "': " + ((UnitLookup.Refused) unit).message())));
        } catch (IllegalArgumentException e) {
            throw new ReplayException("column '" + heading + "': " + e.getMessage(), e);
        }
    }

    /** The sample in a cell; none where it is empty. */
    Optional<Sample> sample(Instant at, String cell) {
        String text = cell.strip();
        if (text.isEmpty()) {
            return Optional.empty();
        }
        double value = Double.parseDouble(text);
        return Optional.of(
                Double.isFinite(value)
                        ? new Sample(point, at, RawValue.of(value), conversion, Quality.GOOD)
                        : new Sample(point, at, RawValue.NONE, conversion, new Quality(Quality.Level.BAD, 0)));
    }
}
