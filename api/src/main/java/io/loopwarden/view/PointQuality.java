package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import io.loopwarden.store.Bucket;
import io.loopwarden.store.Series;
import java.time.Duration;
import java.time.Instant;
import java.util.List;

/**
 * How a point comes in over a time.
 *
 * @param perMinute samples a minute, over the minutes with any
 * @param gapMinutes whole minutes without a sample, between the first and the last of the time and now
 * @param longestGapMinutes the longest stretch of them
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record PointQuality(
        String point,
        long samples,
        long good,
        long uncertain,
        long bad,
        Double perMinute,
        long gapMinutes,
        long longestGapMinutes,
        Instant newestAt) {

    /** @param series by the minute from {@code from} to {@code to} */
    public static PointQuality of(PointName point, Series series, Sample newest, Instant from, Instant to) {
        List<Bucket> minutes = series.buckets();
        long samples = 0;
        long good = 0;
        long bad = 0;
        long gap = 0;
        long longest = 0;
        Instant expected = minutes.isEmpty() ? from : minutes.get(0).start();
        for (Bucket minute : minutes) {
            samples += minute.count() + minute.badCount();
            good += minute.goodCount();
            bad += minute.badCount();
            long missing =
                    Math.max(0, Duration.between(expected, minute.start()).toMinutes());
            gap += missing;
            longest = Math.max(longest, missing);
            expected = minute.start().plus(series.step());
        }
        long last = Math.max(0, Duration.between(expected, to).toMinutes());
        return new PointQuality(
                point.value(),
                samples,
                good,
                samples - good - bad,
                bad,
                minutes.isEmpty() ? null : (double) samples / minutes.size(),
                gap + last,
                Math.max(longest, last),
                newest == null ? null : newest.measuredAt());
    }
}
