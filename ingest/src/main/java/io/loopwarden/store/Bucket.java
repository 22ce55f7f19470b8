package io.loopwarden.store;

import java.time.Instant;
import java.util.Objects;

/** What a point did during one step of time. Values are in the point's inner unit, over samples that are good or uncertain. */
public final class Bucket {

    private final Instant start;
    private final long count;
    private final long goodCount;
    private final long badCount;
    private final double min;
    private final double max;
    private final double mean;
    private final double last;

    Bucket(Instant start, long count, long goodCount, long badCount, double min, double max, double mean, double last) {
        this.start = Objects.requireNonNull(start, "start");
        this.count = count;
        this.goodCount = goodCount;
        this.badCount = badCount;
        this.min = min;
        this.max = max;
        this.mean = mean;
        this.last = last;
    }

    public Instant start() {
        return start;
    }

    /** Samples that are good or uncertain; if 0, there are only bad ones and no values. */
    public long count() {
        return count;
    }

    public long goodCount() {
        return goodCount;
    }

    public long badCount() {
        return badCount;
    }

    /** Good samples over all samples, 0 to 1. */
    public double goodRatio() {
        return (double) goodCount / (count + badCount);
    }

    public boolean hasValue() {
        return count > 0;
    }

    public double minSi() {
        return value(min);
    }

    public double maxSi() {
        return value(max);
    }

    public double meanSi() {
        return value(mean);
    }

    public double lastSi() {
        return value(last);
    }

    private double value(double valueSi) {
        if (count == 0) {
            throw new IllegalStateException("no good or uncertain sample from " + start + " on, ask hasValue() first");
        }
        return valueSi;
    }

    @Override
    public String toString() {
        return hasValue()
                ? start + " n=" + count + " good=" + goodCount + " bad=" + badCount + " " + min + ".." + max + " mean="
                        + mean + " last=" + last
                : start + " bad=" + badCount;
    }
}
