package io.loopwarden.cohort;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.cohort.CohortComparison.Pair;
import io.loopwarden.cohort.CohortComparison.Verdict;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Comparisons against published worked cases, and what is said where there is too little to say. */
class CohortComparisonTest {

    /** A worked case of Welch's test often used in teaching: t = -2.46 with 25.0 degrees of freedom, P = 0.021 (from memory). */
    @Test
    void welchsTestGivesThePublishedProbability() {
        Cohort first = new Cohort(
                "A", List.of(27.5, 21.0, 19.0, 23.6, 17.0, 17.9, 16.9, 20.1, 21.9, 22.6, 23.1, 19.6, 19.0, 21.7, 21.4));
        Cohort second = new Cohort(
                "B", List.of(27.1, 22.0, 20.8, 23.4, 23.4, 23.5, 25.8, 22.0, 24.8, 20.2, 21.9, 22.1, 22.9, 20.5, 24.4));
        Pair pair = CohortComparison.of(List.of(first, second)).pairs().get(0);
        assertThat(pair.probability().orElseThrow()).isCloseTo(0.021, within(0.0005));
        assertThat(pair.verdict()).isEqualTo(Verdict.DIFFERENT);
        assertThat(pair.upper95().orElseThrow()).isNegative();
    }

    /** The case of R's manual for p.adjust-like corrections: 0.01, 0.04, 0.03, 0.005 become 0.03, 0.06, 0.06, 0.02 (from memory). */
    @Test
    void probabilitiesAreCorrectedAfterHolm() {
        assertThat(CohortComparison.holm(new double[] {0.01, 0.04, 0.03, 0.005}))
                .containsExactly(new double[] {0.03, 0.06, 0.06, 0.02}, within(1e-12));
    }

    @Test
    void fewUnitsAreSaidToBeTooFew() {
        CohortComparison comparison = CohortComparison.of(List.of(
                new Cohort("few", List.of(1.0, 2.0, 3.0)),
                new Cohort("many", List.of(9.0, 10.0, 11.0, 12.0, 13.0)),
                new Cohort("none", List.of())));
        assertThat(comparison.pairs())
                .extracting(Pair::verdict)
                .containsOnly(Verdict.NOT_ENOUGH_UNITS)
                .hasSize(3);
        assertThat(comparison.cohorts().get(0).mean()).hasValue(2.0);
        assertThat(comparison.cohorts().get(2).mean()).isEmpty();
    }

    /** Of five cohorts drawn alike, all ten pairs together call falsely in at most one of twenty fleets. */
    @Test
    void manyPairsTogetherDoNotCallFalselyMoreOften() {
        Random random = new Random(42);
        int fleets = 400;
        long called = IntStream.range(0, fleets)
                .filter(fleet -> CohortComparison.of(IntStream.range(0, 5)
                                .mapToObj(c -> new Cohort(
                                        "cohort " + c,
                                        random.doubles(6, -1, 1).boxed().toList()))
                                .toList())
                        .pairs()
                        .stream()
                        .anyMatch(pair -> pair.verdict() == Verdict.DIFFERENT))
                .count();
        // 20 of 400 expected at most; three standard deviations of that count are 13.
        assertThat(called).isLessThanOrEqualTo(33);
    }
}
