package io.loopwarden.bench;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.QueuedSampleLog;
import io.loopwarden.store.SampleReader;
import io.loopwarden.store.SampleStore;
import io.loopwarden.watch.UnitWatch;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;

/** What one unit's scan costs in a small and in a large fleet, and what a query costs after a week and after a year. */
final class Growth implements BenchMain.Row {

    private static final int LEAST_COMPARED = 100;
    private static final double GOAL = 1.3;
    private static final int FILL_STEP_S = 10;
    private static final int FILLED_S = 900;

    /** Microseconds for one scan of one unit. */
    private record Cost(int units, double storedUs, double watchedUs) {
        double us() {
            return storedUs + watchedUs;
        }
    }

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int[] fleets = wanted.size() == Wanted.Size.TINY ? new int[] {10, 100} : new int[] {10, 100, 1000, 10_000};
        int scans = wanted.of(400, 20_000, 40_000);
        int runs = wanted.of(1, 3, 5);
        PlayedUnit played = new PlayedUnit(wanted.root(), wanted.of(60, 600, 600));
        if (wanted.size() != Wanted.Size.TINY) {
            cost(played, LEAST_COMPARED, scans);
        }
        List<List<Cost>> costs = new ArrayList<>();
        for (int fleet : fleets) {
            List<Cost> ofFleet = new ArrayList<>();
            for (int run = 0; run < runs; run++) {
                ofFleet.add(cost(played, fleet, scans));
            }
            costs.add(ofFleet);
        }
        List<Line> lines = new ArrayList<>();
        Runs compared = null;
        for (List<Cost> ofFleet : costs) {
            int units = ofFleet.get(0).units();
            Runs us = Runs.of(ofFleet.stream().mapToDouble(Cost::us).toArray());
            compared = units == LEAST_COMPARED ? us : compared;
            String what = "one unit's scan stored, watched and evaluated, among " + units;
            lines.add(units <= LEAST_COMPARED ? Line.told(what, us, "us") : Line.costs(what, us, compared, "us", GOAL));
        }
        lines.addAll(history(wanted));
        Chart chart = new Chart(
                "growth",
                "Cost of one unit's scan",
                "units",
                "microseconds",
                List.of(
                        new Chart.Curve("all", dots(costs, Cost::us)),
                        new Chart.Curve("stored", dots(costs, Cost::storedUs)),
                        new Chart.Curve("watched, evaluated", dots(costs, Cost::watchedUs))));
        return new Sheet(lines, List.of(chart));
    }

    private static List<double[]> dots(List<List<Cost>> costs, java.util.function.ToDoubleFunction<Cost> part) {
        return costs.stream()
                .map(fleet -> new double[] {
                    fleet.get(0).units(),
                    Runs.of(fleet.stream().mapToDouble(part).toArray()).median()
                })
                .toList();
    }

    /** Every unit sends in turn until so many scans have come; the watches look back on a quarter of an hour. */
    private static Cost cost(PlayedUnit played, int units, int scans) throws Exception {
        Instant from = PlayedUnit.START.plusSeconds(FILLED_S);
        List<UnitWatch> watches = new ArrayList<>();
        for (int u = 0; u < units; u++) {
            UnitWatch watch = new UnitWatch(played.unit("G-" + u));
            for (int second = 0; second < FILLED_S; second += FILL_STEP_S) {
                played.samples(second, PlayedUnit.START.plusSeconds(second)).forEach(watch::accept);
            }
            watches.add(watch);
        }
        int seconds = Math.max(1, scans / units);
        long watchedNs = 0;
        long storedNs = 0;
        Clock clock = Clock.fixed(from.plus(Duration.ofHours(1)), ZoneOffset.UTC);
        try (BenchStore database = new BenchStore();
                SampleStore store = database.open(clock);
                QueuedSampleLog log = new QueuedSampleLog(store, BenchStore.PATIENT)) {
            for (int second = 0; second < seconds; second++) {
                Instant at = from.plusSeconds(second);
                List<Scan> round = new ArrayList<>(units);
                for (UnitWatch watch : watches) {
                    round.add(new Scan(watch.unit().id(), at, played.samples(FILLED_S + second, at)));
                }
                long began = System.nanoTime();
                List<CompletableFuture<Void>> stored = new ArrayList<>(units);
                for (Scan scan : round) {
                    stored.add(log.append(scan));
                }
                if (second % Math.max(1, 1000 / units) == 0 || second == seconds - 1) {
                    stored.forEach(CompletableFuture::join);
                }
                long written = System.nanoTime();
                for (int u = 0; u < units; u++) {
                    watches.get(u).accept(round.get(u));
                    watches.get(u).evaluate(at);
                }
                storedNs += written - began;
                watchedNs += System.nanoTime() - written;
            }
        }
        double all = (double) units * seconds;
        return new Cost(units, storedNs / 1e3 / all, watchedNs / 1e3 / all);
    }

    /** The same queries where a week is stored and where a year is. */
    private static List<Line> history(Wanted wanted) throws Exception {
        int longer = wanted.of(3, 60, 365);
        int shorter = wanted.of(2, 7, 7);
        try (Stored week = new Stored(shorter);
                Stored year = new Stored(longer)) {
            int before = wanted.of(1, 30, 60);
            int counted = wanted.of(3, 60, 200);
            List<Line> lines = new ArrayList<>();
            List<String> queries = List.of(
                    "the last day of a point at width 1200", "the last hour's samples of a point", "newest samples");
            for (String query : queries) {
                Runs afterWeek = Timed.ms(before, counted, () -> week.ask(query));
                Runs afterYear = Timed.ms(before, counted, () -> year.ask(query));
                lines.add(Line.costs(
                        query + ", " + longer + " days stored against " + shorter,
                        Runs.of(afterYear.median()),
                        Runs.of(afterWeek.median()),
                        "ms",
                        GOAL));
            }
            return lines;
        }
    }

    /** Some days of one unit at a scan in ten seconds, hours closed. */
    private static final class Stored implements AutoCloseable {

        private static final UnitId UNIT = new UnitId("GROWN");
        private static final int STEP_S = 10;

        private final BenchStore database = new BenchStore();
        private final SampleStore store;
        private final PointName point;
        private final Instant end;

        Stored(int days) throws Exception {
            Instant start = Instant.parse("2025-11-17T00:00:00Z");
            end = start.plus(Duration.ofDays(days));
            MadeScans made = new MadeScans(4);
            point = made.point(1);
            Clock clock = Clock.fixed(end.plus(Duration.ofHours(2)), ZoneOffset.UTC);
            try (SampleStore filled = database.openHasty(clock)) {
                for (int hour = 0; hour < 24 * days; hour++) {
                    List<Scan> scans = new ArrayList<>();
                    for (int second = 0; second < 3600; second += STEP_S) {
                        scans.add(made.scan(UNIT, start.plusSeconds(3600L * hour + second)));
                    }
                    filled.store(scans);
                }
                YearQuery.close(filled);
            }
            database.execute("VACUUM ANALYZE");
            store = database.open(clock);
        }

        Object ask(String query) throws Exception {
            SampleReader reader = store.reader();
            if (query.startsWith("the last day")) {
                return reader.series(UNIT, point, end.minus(Duration.ofDays(1)), end, 1200);
            }
            if (query.startsWith("newest")) {
                return reader.latest(UNIT);
            }
            long[] count = {0};
            reader.samples(UNIT, point, end.minus(Duration.ofHours(1)), end, sample -> count[0]++);
            return count[0];
        }

        @Override
        public void close() {
            store.close();
            database.close();
        }
    }
}
