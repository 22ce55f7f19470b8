package io.loopwarden.cohort;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.StatUtils;
import org.hipparchus.stat.inference.TTest;

/**
 * Cohorts and every pair of them. A pair is compared by Welch's test (Welch 1947), which takes no equal scatter for granted; the
 * probabilities are corrected for the number of pairs after Holm (1979) and the intervals of differences hold for all pairs together
 * (Bonferroni). The scatter between units holds their measurement errors too.
 */
public record CohortComparison(List<Summary> cohorts, List<Pair> pairs) {

    /** A cohort with fewer units says nothing about its kind (common practice, no source). */
    public static final int LEAST_UNITS = 4;

    private static final double CONFIDENCE = 0.95;

    /** @param lower95 end of the interval of the mean, by Student's distribution; absent below two units */
    public record Summary(
            String name, int units, OptionalDouble mean, OptionalDouble lower95, OptionalDouble upper95) {}

    /** What a pair says. */
    public enum Verdict {
        /** They differ, corrected for the number of pairs. */
        DIFFERENT,
        /** No difference can be told; one smaller than the interval may still be there. */
        NO_DIFFERENCE_TOLD,
        /** One of them has fewer than four units, or the units do not scatter at all. */
        NOT_ENOUGH_UNITS
    }

    /**
     * @param difference mean of the first less mean of the second
     * @param lower95 interval of the difference that holds for all pairs together
     * @param probability of a difference so large by chance, corrected
     */
    public record Pair(
            String first,
            String second,
            OptionalDouble difference,
            OptionalDouble lower95,
            OptionalDouble upper95,
            OptionalDouble probability,
            Verdict verdict) {}

    public CohortComparison {
        cohorts = List.copyOf(cohorts);
        pairs = List.copyOf(pairs);
    }

    public static CohortComparison of(List<Cohort> cohorts) {
        List<Cohort[]> all = new ArrayList<>();
        for (int a = 0; a < cohorts.size(); a++) {
            for (int b = a + 1; b < cohorts.size(); b++) {
                all.add(new Cohort[] {cohorts.get(a), cohorts.get(b)});
            }
        }
        List<Cohort[]> told =
                all.stream().filter(pair -> enough(pair[0], pair[1])).toList();
        double[] raw = told.stream()
                .mapToDouble(pair -> new TTest().tTest(pair[0].array(), pair[1].array()))
                .toArray();
        double[] corrected = holm(raw);
        List<Pair> pairs = new ArrayList<>();
        for (Cohort[] pair : all) {
            int at = told.indexOf(pair);
            pairs.add(at < 0 ? untold(pair[0], pair[1]) : told(pair[0], pair[1], corrected[at], told.size()));
        }
        return new CohortComparison(
                cohorts.stream().map(CohortComparison::summary).toList(), pairs);
    }

    private static boolean enough(Cohort a, Cohort b) {
        return a.values().size() >= LEAST_UNITS
                && b.values().size() >= LEAST_UNITS
                && StatUtils.variance(a.array()) + StatUtils.variance(b.array()) > 0;
    }

    private static Summary summary(Cohort cohort) {
        int n = cohort.values().size();
        if (n == 0) {
            return new Summary(
                    cohort.name(), 0, OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());
        }
        double mean = StatUtils.mean(cohort.array());
        if (n == 1) {
            return new Summary(
                    cohort.name(), 1, OptionalDouble.of(mean), OptionalDouble.empty(), OptionalDouble.empty());
        }
        double half = quantile(n - 1.0, 1) * Math.sqrt(StatUtils.variance(cohort.array()) / n);
        return new Summary(
                cohort.name(),
                n,
                OptionalDouble.of(mean),
                OptionalDouble.of(mean - half),
                OptionalDouble.of(mean + half));
    }

    private static Pair untold(Cohort a, Cohort b) {
        boolean both = !a.values().isEmpty() && !b.values().isEmpty();
        return new Pair(
                a.name(),
                b.name(),
                both
                        ? OptionalDouble.of(StatUtils.mean(a.array()) - StatUtils.mean(b.array()))
                        : OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                Verdict.NOT_ENOUGH_UNITS);
    }

    private static Pair told(Cohort a, Cohort b, double probability, int pairs) {
        double va = StatUtils.variance(a.array()) / a.values().size();
        double vb = StatUtils.variance(b.array()) / b.values().size();
        double freedom = (va + vb)
                * (va + vb)
                / (va * va / (a.values().size() - 1) + vb * vb / (b.values().size() - 1));
        double half = quantile(freedom, pairs) * Math.sqrt(va + vb);
        double difference = StatUtils.mean(a.array()) - StatUtils.mean(b.array());
        return new Pair(
                a.name(),
                b.name(),
                OptionalDouble.of(difference),
                OptionalDouble.of(difference - half),
                OptionalDouble.of(difference + half),
                OptionalDouble.of(probability),
                probability < 1 - CONFIDENCE ? Verdict.DIFFERENT : Verdict.NO_DIFFERENCE_TOLD);
    }

    private static double quantile(double freedom, int pairs) {
        return new TDistribution(freedom).inverseCumulativeProbability(1 - (1 - CONFIDENCE) / (2 * pairs));
    }

    /** Probabilities corrected after Holm, in the order given. */
    static double[] holm(double[] raw) {
        int m = raw.length;
        List<Integer> order = IntStream.range(0, m)
                .boxed()
                .sorted(Comparator.comparingDouble(i -> raw[i]))
                .toList();
        double[] corrected = new double[m];
        double most = 0;
        for (int rank = 0; rank < m; rank++) {
            int i = order.get(rank);
            most = Math.max(most, Math.min(1, (m - rank) * raw[i]));
            corrected[i] = most;
        }
        return corrected;
    }
}
