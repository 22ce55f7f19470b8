package io.loopwarden.study;

import static io.loopwarden.study.TrialUnits.between;

import io.loopwarden.exchanger.FoulingTrend;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.study.WatchedUnit.Hour;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;

/** How often the truth lies in the stated 95 % intervals, over unit-months half of which foul; and false calls in the other half. */
final class CoverageStudy {

    private static final String AT_RATED = "approach-at-rated-duty";
    private static final List<String> KEYS = List.of("ua", "fouling-resistance", AT_RATED);
    private static final int COMMISSIONING_DAYS = 5;
    private static final int LEAST_WINDOWS = 20;

    private final TrialUnits units;
    private final int days;
    private final Map<String, double[]> shares = new TreeMap<>();

    CoverageStudy(TrialUnits units, int days) {
        this.units = units;
        this.days = days;
    }

    static String coverageOf(String key) {
        return "coverage: truth in the 95 % interval of " + key;
    }

    private static final class Count {
        private int said;
        private int held;
        private double uncertaintyRatio;

        void add(Estimate stated, double truth, double scale) {
            said++;
            held += stated.lower95() <= truth && truth <= stated.upper95() ? 1 : 0;
            uncertaintyRatio += stated.standardUncertainty() / scale;
        }

        double share() {
            return 100.0 * held / said;
        }
    }

    private record UnitMonth(boolean clean, boolean called, int hours, Map<String, Count> counts) {}

    List<Finding> run(long seed, int unitMonths) {
        List<UnitMonth> months = Trials.run(seed, 1, unitMonths, this::month);
        List<Finding> findings = new ArrayList<>();
        for (String key : KEYS) {
            List<Count> counts = months.stream()
                    .map(m -> m.counts.get(key))
                    .filter(c -> c != null && c.said >= LEAST_WINDOWS)
                    .toList();
            shares.put(key, counts.stream().mapToDouble(Count::share).toArray());
            int said = counts.stream().mapToInt(c -> c.said).sum();
            double held = counts.stream().mapToInt(c -> c.held).sum();
            double share = said == 0 ? 0 : 100 * held / said;
            double spread = Trials.spread(counts, Count::share);
            findings.add(
                    key.equals(AT_RATED)
                            ? Finding.told(coverageOf(key), share, "%")
                            : Finding.within(coverageOf(key), share, spread, "%", 93, 97));
            int hours = months.stream().mapToInt(UnitMonth::hours).sum();
            findings.add(Finding.told("    hours in which " + key + " is stated", 100.0 * said / hours, "%"));
            double u = counts.stream().mapToDouble(c -> c.uncertaintyRatio).sum();
            findings.add(Finding.told(
                    "    its mean standard uncertainty, of UA, clean resistance or itself",
                    said == 0 ? 0 : 100 * u / said,
                    "%"));
        }
        List<UnitMonth> clean = months.stream().filter(UnitMonth::clean).toList();
        long called = clean.stream().filter(UnitMonth::called).count();
        findings.add(Finding.of(
                "false calls, of " + clean.size() + " clean unit-months of " + days + " days",
                100.0 * called / clean.size(),
                "%",
                "<= 2",
                f -> f <= 2));
        return findings;
    }

    /** Of the last run: one sensor's constant error moves all windows of its unit, so the share differs from unit to unit. */
    Picture picture() {
        List<String> labels = List.of("0 to 80", "80 to 90", "90 to 93", "93 to 97", "97 to 99", "99 to 100 %");
        double[] edges = {-1, 80, 90, 93, 97, 99, 100};
        List<Picture.Row> rows = new ArrayList<>();
        for (String key : KEYS) {
            double[] units = new double[labels.size()];
            for (double share : shares.get(key)) {
                int bin = 0;
                while (share > edges[bin + 1]) {
                    bin++;
                }
                units[bin]++;
            }
            rows.add(new Picture.Row(key, units));
        }
        return Picture.bars(
                "Coverage, unit by unit",
                "Units by the share of their windows whose 95 % interval holds the truth. Over all windows 93 to 97 % is asked.",
                labels,
                "units",
                rows);
    }

    private UnitMonth month(Random random) {
        WatchedUnit watched = new WatchedUnit(units.anywhere(random));
        for (int hour = 0; hour < COMMISSIONING_DAYS * 24; hour++) {
            watched.nextHour();
        }
        boolean clean = random.nextBoolean();
        if (!clean) {
            foul(watched, random);
        }
        boolean called = false;
        int hours = 0;
        Map<String, Count> counts = new TreeMap<>();
        int known = 0;
        for (int hour = 0; hour < days * 24; hour++) {
            Hour h = watched.nextHourWithTruth();
            var history = watched.history();
            if (history.learntAt().isEmpty()) {
                continue;
            }
            hours++;
            count(h, counts);
            if (history.days().size() > known) {
                known = history.days().size();
                called |= FoulingTrend.fouled(history).fold(yes -> yes, gap -> false);
            }
        }
        return new UnitMonth(clean, called, hours, counts);
    }

    private static void foul(WatchedUnit watched, Random random) {
        Instant from = watched.unit().now().plus(Duration.ofHours(random.nextInt(10 * 24)));
        double clean = 1 / watched.unit().truth().cleanUaWPerK();
        double area = watched.unit().spec().plant().plateAreaM2();
        double atEnd = clean * area * between(0.02, 0.2, random);
        watched.unit()
                .addFault(
                        random.nextBoolean()
                                ? TrialUnits.linear(from, atEnd / 30)
                                : TrialUnits.asymptotic(from, atEnd, between(5, 40, random)));
    }

    private static void count(Hour h, Map<String, Count> counts) {
        double ua = h.trueUaWPerK();
        double atRated = h.trueApproachAtRatedK();
        count(h, "ua", ua, ua, counts);
        count(h, "fouling-resistance", h.trueFoulingKPerW(), 1 / ua, counts);
        count(h, AT_RATED, atRated, atRated, counts);
    }

    private static void count(Hour h, String key, double truth, double scale, Map<String, Count> counts) {
        h.of(key).map(stated -> {
            counts.computeIfAbsent(key, k -> new Count()).add(stated, truth, scale);
            return stated;
        });
    }
}
