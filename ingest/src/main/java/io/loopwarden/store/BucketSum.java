package io.loopwarden.store;

/** Sums up samples, or buckets, into one bucket. */
final class BucketSum {

    long count;
    long goodCount;
    long badCount;
    double min = Double.POSITIVE_INFINITY;
    double max = Double.NEGATIVE_INFINITY;
    private double sum;
    double last;
    private long lastNs = Long.MIN_VALUE;

    void sample(long timeNs, double valueSi, boolean good) {
        count++;
        goodCount += good ? 1 : 0;
        min = Math.min(min, valueSi);
        max = Math.max(max, valueSi);
        sum += valueSi;
        last(timeNs, valueSi);
    }

    void bad() {
        badCount++;
    }

    /** Parts may come out of order. */
    private void last(long timeNs, double valueSi) {
        if (timeNs >= lastNs) {
            last = valueSi;
            lastNs = timeNs;
        }
    }

    void bucket(
            long startNs,
            long samples,
            long good,
            long bad,
            double bucketMin,
            double bucketMax,
            double mean,
            double bucketLast) {
        goodCount += good;
        badCount += bad;
        if (samples > 0) {
            count += samples;
            min = Math.min(min, bucketMin);
            max = Math.max(max, bucketMax);
            sum += mean * samples;
            last(startNs, bucketLast);
        }
    }

    boolean isEmpty() {
        return count == 0 && badCount == 0;
    }

    double mean() {
        return sum / count;
    }

    Bucket at(long startNs) {
        return new Bucket(Times.instant(startNs), count, goodCount, badCount, min, max, mean(), last);
    }
}
