package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.store.Bucket;
import io.loopwarden.store.Series;
import java.time.Instant;
import java.util.List;

/**
 * One point over a range of time.
 *
 * @param unit UCUM code of the values
 * @param stepSeconds length of each bucket; buckets without a sample are left out, so a gap is a gap
 */
public record SeriesView(String unitId, String point, String unit, double stepSeconds, List<BucketView> buckets) {

    /**
     * @param count samples that are good or uncertain
     * @param good of these, good ones
     * @param bad samples of quality bad
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record BucketView(
            Instant start, Double min, Double max, Double mean, Double last, long count, long good, long bad) {

        static BucketView of(Bucket bucket) {
            return bucket.hasValue()
                    ? new BucketView(
                            bucket.start(),
                            bucket.minSi(),
                            bucket.maxSi(),
                            bucket.meanSi(),
                            bucket.lastSi(),
                            bucket.count(),
                            bucket.goodCount(),
                            bucket.badCount())
                    : new BucketView(bucket.start(), null, null, null, null, 0, 0, bucket.badCount());
        }
    }

    public static SeriesView of(UnitId unit, PointName point, Series series) {
        return new SeriesView(
                unit.value(),
                point.value(),
                point.quantity().ucum(),
                series.step().toNanos() / 1e9,
                series.buckets().stream().map(BucketView::of).toList());
    }
}
