package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.store.FigureBucket;
import io.loopwarden.store.FigureSeries;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;

/**
 * One figure of one unit over a range of time.
 *
 * @param stepSeconds length of each bucket; steps in which the unit was not evaluated are left out
 */
public record FigureSeriesView(String unitId, String key, double stepSeconds, List<Bucket> buckets) {

    /**
     * @param values minutes with a value
     * @param gaps minutes with a reason instead
     * @param standardUncertainty mean of the standard uncertainties
     * @param reason why the newest minute without a value had none
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Bucket(
            Instant start,
            Double min,
            Double max,
            Double mean,
            Double standardUncertainty,
            int values,
            int gaps,
            String reason) {

        static Bucket of(FigureBucket bucket) {
            return new Bucket(
                    bucket.start(),
                    orNull(bucket.min()),
                    orNull(bucket.max()),
                    orNull(bucket.mean()),
                    orNull(bucket.standardUncertainty()),
                    bucket.values(),
                    bucket.gaps(),
                    bucket.reason().map(FigureView::hyphenated).orElse(null));
        }

        private static Double orNull(OptionalDouble value) {
            return value.isPresent() ? value.getAsDouble() : null;
        }
    }

    public static FigureSeriesView of(UnitId unit, String key, FigureSeries series) {
        return new FigureSeriesView(
                unit.value(),
                key,
                series.step().toNanos() / 1e9,
                series.buckets().stream().map(Bucket::of).toList());
    }
}
