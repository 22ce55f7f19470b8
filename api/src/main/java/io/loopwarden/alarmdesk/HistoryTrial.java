package io.loopwarden.alarmdesk;

import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.FigureCondition;
import io.loopwarden.alarm.Limit;
import io.loopwarden.alarm.PointCondition;
import io.loopwarden.alarm.SignalCondition;
import io.loopwarden.alarm.TestFire;
import io.loopwarden.alarm.Verdict;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.store.Bucket;
import io.loopwarden.store.FigureBucket;
import io.loopwarden.store.FigureReader;
import io.loopwarden.store.FigureSeries;
import io.loopwarden.store.FigureStore;
import io.loopwarden.store.SampleReader;
import io.loopwarden.store.Series;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;

/**
 * Fires a definition against stored history: what would it have done? Judged minute by minute where minutes are kept, else hour by hour,
 * by the condition and delays as in service; suppression and shelving are left out.
 */
public final class HistoryTrial {

    /** A chunk that is read at once. */
    private static final Duration CHUNK = Duration.ofDays(7);

    /**
     * What it would have done.
     *
     * @param spans when it would have been there, in order of unit and time
     * @param meanDuration over all spans; null without any
     * @param judged judgements made
     * @param unknown those for which there was no value
     */
    public record Outcome(
            List<TestFire.Span> spans, Duration meanDuration, long judged, long unknown, Duration longestStep) {}

    private final FigureReader figures;
    private final SampleReader samples;

    public HistoryTrial(FigureReader figures, SampleReader samples) {
        this.figures = figures;
        this.samples = samples;
    }

    /** @throws IllegalArgumentException if no history tells what the condition is about; the message says so */
    public Outcome fire(Definition definition, Map<Unit, List<PointName>> units, Instant from, Instant to)
            throws SQLException {
        Run run = new Run(new TestFire(definition.delays()), from, to);
        if (definition.condition() instanceof FigureCondition condition) {
            run.figure(
                    units.keySet(),
                    condition.indicator(),
                    nameplate -> bucket -> bucket.mean().isEmpty()
                            ? Verdict.Kind.UNKNOWN
                            : condition.judge(
                                    new Estimate(
                                            bucket.mean().getAsDouble(),
                                            bucket.standardUncertainty().orElse(0)),
                                    nameplate));
        } else if (definition.condition() instanceof SignalCondition condition) {
            String key = FigureStore.SIGNAL
                    + condition.function().name().toLowerCase(Locale.ROOT).replace('_', '-');
            run.figure(
                    units.keySet(),
                    key,
                    nameplate -> bucket -> bucket.max().isEmpty()
                            ? Verdict.Kind.UNKNOWN
                            : bucket.max().getAsDouble() >= condition.atLeast().ordinal()
                                    ? Verdict.Kind.BEYOND
                                    : Verdict.Kind.GOOD);
        } else if (definition.condition() instanceof PointCondition condition) {
            for (Map.Entry<Unit, List<PointName>> unit : units.entrySet()) {
                run.points(unit.getKey(), unit.getValue(), condition);
            }
        } else {
            throw new IllegalArgumentException("'" + definition.condition().words()
                    + "' is about the service's own state, of which no history is kept");
        }
        TestFire fire = run.fire;
        return new Outcome(
                fire.spans(), fire.meanDuration(to).orElse(null), fire.judged(), fire.unknown(), run.longestStep);
    }

    private final class Run {
        final TestFire fire;
        private final Instant from;
        private final Instant to;
        private Duration longestStep = Duration.ofMinutes(1);

        Run(TestFire fire, Instant from, Instant to) {
            this.fire = fire;
            this.from = from;
            this.to = to;
        }

        void figure(Iterable<Unit> units, String key, Function<Nameplate, Function<FigureBucket, Verdict.Kind>> judge)
                throws SQLException {
            List<UnitId> ids = new ArrayList<>();
            units.forEach(unit -> ids.add(unit.id()));
            Map<UnitId, TreeMap<Instant, FigureBucket>> lines = new TreeMap<>();
            for (Instant begin = from; begin.isBefore(to); begin = end(begin)) {
                int width =
                        (int) Math.max(1, Duration.between(begin, end(begin)).toMinutes());
                for (Map.Entry<UnitId, FigureSeries> part :
                        figures.all(ids, key, begin, end(begin), width).entrySet()) {
                    longer(part.getValue().step());
                    TreeMap<Instant, FigureBucket> line = lines.computeIfAbsent(part.getKey(), id -> new TreeMap<>());
                    part.getValue().buckets().forEach(bucket -> line.put(bucket.start(), bucket));
                }
            }
            for (Unit unit : units) {
                Map<Instant, Verdict.Kind> verdicts = new TreeMap<>();
                Function<FigureBucket, Verdict.Kind> by = judge.apply(unit.nameplate());
                lines.getOrDefault(unit.id(), new TreeMap<>())
                        .forEach((start, bucket) -> verdicts.put(start, by.apply(bucket)));
                judge(unit, verdicts);
            }
        }

        void points(Unit unit, List<PointName> points, PointCondition condition) throws SQLException {
            TreeMap<Instant, Verdict.Kind> verdicts = new TreeMap<>();
            boolean above = condition.limit().side() == Limit.Side.ABOVE;
            for (PointName point : points) {
                for (Instant begin = from; begin.isBefore(to); begin = end(begin)) {
                    int width = (int)
                            Math.max(1, Duration.between(begin, end(begin)).toMinutes());
                    Series series = samples.series(unit.id(), point, begin, end(begin), width);
                    longer(series.step());
                    for (Bucket bucket : series.buckets()) {
                        Verdict.Kind verdict = !bucket.hasValue()
                                ? Verdict.Kind.UNKNOWN
                                : condition.judge(above ? bucket.maxSi() : bucket.minSi(), unit.nameplate());
                        // Of several points the worst decides, as in service.
                        verdicts.merge(bucket.start(), verdict, (a, b) -> a.compareTo(b) <= 0 ? a : b);
                    }
                }
            }
            judge(unit, verdicts);
        }

        private void judge(Unit unit, Map<Instant, Verdict.Kind> verdicts) {
            String source = unit.id().value();
            Instant last = null;
            for (Map.Entry<Instant, Verdict.Kind> verdict : verdicts.entrySet()) {
                if (last != null && last.plus(longestStep).isBefore(verdict.getKey())) {
                    fire.judge(source, last.plus(longestStep), Verdict.Kind.UNKNOWN);
                }
                fire.judge(source, verdict.getKey(), verdict.getValue());
                last = verdict.getKey();
            }
            fire.end(source);
        }

        private Instant end(Instant begin) {
            Instant end = begin.plus(CHUNK);
            return end.isBefore(to) ? end : to;
        }

        private void longer(Duration step) {
            longestStep = step.compareTo(longestStep) > 0 ? step : longestStep;
        }
    }
}
