package io.loopwarden.store;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;

/** Buckets of one step length along time. Parts may come in any order of hours, in order within an hour. */
final class BucketLine {

    private final long stepNs;
    private final long fromNs;
    private final long toNs;
    private final TreeMap<Long, BucketSum> sums = new TreeMap<>();
    private long currentNs = Long.MIN_VALUE;
    private BucketSum current;

    /** Takes what lies from {@code fromNs} (included) to {@code toNs} (not included). */
    BucketLine(long stepNs, long fromNs, long toNs) {
        this.stepNs = stepNs;
        this.fromNs = fromNs;
        this.toNs = toNs;
    }

    /** The sum for that time, or null if it is outside of the range. */
    BucketSum at(long ns) {
        if (ns < fromNs || ns >= toNs) {
            return null;
        }
        long startNs = ns - Math.floorMod(ns, stepNs);
        if (startNs != currentNs) {
            currentNs = startNs;
            current = sums.computeIfAbsent(startNs, start -> new BucketSum());
        }
        return current;
    }

    void add(PointSamples samples) {
        for (int i = 0; i < samples.size(); i++) {
            BucketSum sum = at(samples.timeNs(i));
            if (sum != null && samples.isBad(i)) {
                sum.bad();
            } else if (sum != null) {
                sum.sample(samples.timeNs(i), samples.valueSi(i), samples.isGood(i));
            }
        }
    }

    List<Bucket> buckets() {
        List<Bucket> buckets = new ArrayList<>(sums.size());
        sums.forEach((startNs, sum) -> {
            if (!sum.isEmpty()) {
                buckets.add(sum.at(startNs));
            }
        });
        return buckets;
    }
}
