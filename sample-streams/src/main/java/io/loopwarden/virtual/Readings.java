package io.loopwarden.virtual;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.virtual.sense.Channels;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** What all sensors of a unit showed at one time. */
public final class Readings {

    private final Channels channels;
    private final Instant at;
    private final double[] values;
    private final boolean[] bad;

    Readings(Channels channels, Instant at, double[] values, boolean[] bad) {
        this.channels = channels;
        this.at = at;
        this.values = values;
        this.bad = bad;
    }

    public Instant at() {
        return at;
    }

    public int size() {
        return values.length;
    }

    public PointName point(int channel) {
        return channels.point(channel);
    }

    /** In the inner unit of the point. */
    public double value(int channel) {
        return values[channel];
    }

    /** The sensor reports itself as failed. */
    public boolean isBad(int channel) {
        return bad[channel];
    }

    public double value(String point) {
        return values[channels.require(point)];
    }

    public boolean isBad(String point) {
        return bad[channels.require(point)];
    }

    /** As samples of the fleet's vocabulary, in inner units. */
    public List<Sample> samples() {
        List<Sample> samples = new ArrayList<>(values.length);
        for (int i = 0; i < values.length; i++) {
            PointName point = channels.point(i);
            boolean whole = point.quantity() == Quantity.FLAG || point.quantity() == Quantity.COUNT;
            RawValue raw = whole ? RawValue.of(Math.round(values[i])) : RawValue.of(values[i]);
            Quality quality = bad[i] ? new Quality(Quality.Level.BAD, 0) : Quality.GOOD;
            samples.add(
                    new Sample(point, at, bad[i] ? RawValue.NONE : raw, Conversion.none(point.quantity()), quality));
        }
        return samples;
    }
}
