package io.loopwarden.bench;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** Scans of random values with three decimals: the hardest to make small, as every digit is news. */
final class MadeScans {

    static final int POINTS = 40;

    private final List<PointName> names;
    private final Conversion[] conversions;
    private final Random random = new Random(1);

    MadeScans() {
        this(POINTS);
    }

    MadeScans(int points) {
        names = names(points);
        conversions =
                names.stream().map(name -> Conversion.none(name.quantity())).toArray(Conversion[]::new);
    }

    static List<PointName> names(int points) {
        List<PointName> names = new ArrayList<>();
        for (int n = 1; names.size() < points; n++) {
            for (String kind : List.of("speed", "power", "dp", "run-time")) {
                names.add(PointName.of("pump." + n + "." + kind));
            }
        }
        return List.copyOf(names.subList(0, points));
    }

    PointName point(int number) {
        return names.get(number);
    }

    Scan scan(UnitId unit, Instant at) {
        List<Sample> samples = new ArrayList<>(names.size());
        for (int p = 0; p < names.size(); p++) {
            RawValue raw = RawValue.of(random.nextInt(100_000) / 1000.0);
            samples.add(new Sample(names.get(p), at, raw, conversions[p], Quality.GOOD));
        }
        return new Scan(unit, at, samples);
    }

    /** A scan a second of each unit, in order of time. */
    List<Scan> scans(int units, Instant from, int seconds) {
        List<UnitId> ids = new ArrayList<>();
        for (int u = 0; u < units; u++) {
            ids.add(new UnitId(units + "-" + u));
        }
        List<Scan> scans = new ArrayList<>(units * seconds);
        for (int s = 0; s < seconds; s++) {
            for (UnitId id : ids) {
                scans.add(scan(id, from.plusSeconds(s)));
            }
        }
        return scans;
    }
}
