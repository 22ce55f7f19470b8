package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.Performance;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The figures of IEC 62682 and EEMUA 191 as they leave; what each should be is in the page that shows them. */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record PerformanceView(
        Instant from,
        Instant to,
        int operators,
        int annunciated,
        double perTenMinutes,
        double peakInTenMinutes,
        double shareOfFloodPeriods,
        List<Performance.FloodSpan> floods,
        Map<String, Integer> byPriority,
        List<Frequent> frequent,
        double shareOfFrequent,
        List<String> chattering,
        List<String> stale,
        Double medianToAcknowledgeS,
        Double ninetyPercentAcknowledgedWithinS,
        int unanswered) {

    public record Frequent(String alarm, int count) {}

    public static PerformanceView of(Performance figures) {
        Map<String, Integer> byPriority = new LinkedHashMap<>();
        figures.byPriority().forEach((priority, count) -> byPriority.put(hyphenated(priority), count));
        return new PerformanceView(
                figures.from(),
                figures.to(),
                figures.operators(),
                figures.annunciated(),
                figures.perTenMinutes(),
                figures.peakInTenMinutes(),
                figures.shareOfFloodPeriods(),
                figures.floods(),
                byPriority,
                figures.frequent().stream()
                        .map(each -> new Frequent(each.alarm().toString(), each.count()))
                        .toList(),
                figures.shareOfFrequent(),
                figures.chattering().stream().map(AlarmId::toString).toList(),
                figures.stale().stream().map(AlarmId::toString).toList(),
                figures.medianToAcknowledge().map(PerformanceView::seconds).orElse(null),
                figures.ninetyPercentAcknowledgedWithin()
                        .map(PerformanceView::seconds)
                        .orElse(null),
                figures.unanswered());
    }

    private static Double seconds(Duration duration) {
        return duration.toMillis() / 1e3;
    }
}
