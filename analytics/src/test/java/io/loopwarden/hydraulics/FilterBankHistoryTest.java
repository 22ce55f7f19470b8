package io.loopwarden.hydraulics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.hydraulics.FilterHistory.Priors;
import io.loopwarden.hydraulics.LoopReading.BranchFlow;
import io.loopwarden.statistics.Estimate;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Four filters whose fittings take three times the clean element; the flow finds its way by halving, not by the code under test. */
class FilterBankHistoryTest {

    private static final Priors PRIORS = new Priors(new Estimate(0.4, 0.15), 577, 60);
    private static final double ELEMENT_PA = 10_000;
    private static final double FITTINGS = 3;
    private static final double[] OFFSET_PA = {300, -200, 0, 150};

    private final Random random = new Random(41);
    private final double[] loading = {1, 1, 1, 1};
    private FilterBankHistory bank = FilterBankHistory.begin(4);
    private double at = 1.8e9;
    private Map<Integer, Double> shown = Map.of();
    private BranchFlow flow = new BranchFlow(1, 1);

    private void days(double days) {
        for (int i = 0; i < 144 * days; i++) {
            at += 600;
            double q = 0.5 + 0.5 * random.nextDouble();
            flow = new BranchFlow(q, q * q);
            shown = shown(q);
            bank = bank.after(
                    new LoopReading(
                            at,
                            Optional.empty(),
                            Optional.of(flow),
                            Optional.empty(),
                            shown,
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty()),
                    PRIORS);
        }
    }

    /** What the sensors show at a total flow relative to rated: one differential pressure lies over all branches. */
    private Map<Integer, Double> shown(double q) {
        double low = 0;
        double high = 50 * ELEMENT_PA;
        for (int k = 0; k < 80; k++) {
            double middle = (low + high) / 2;
            double total = 0;
            for (double k1 : loading) {
                total += share(k1, middle);
            }
            low = total < 4 * q ? middle : low;
            high = total < 4 * q ? high : middle;
        }
        Map<Integer, Double> shown = new HashMap<>();
        for (int i = 0; i < 4; i++) {
            double x = share(loading[i], low);
            double dp = loading[i] * ELEMENT_PA * (0.4 * x + 0.6 * x * x);
            shown.put(i + 1, dp + OFFSET_PA[i] + 25 * random.nextGaussian());
        }
        return shown;
    }

    private static double share(double k, double dpPa) {
        double a = k * ELEMENT_PA * 0.4;
        double b = k * ELEMENT_PA * 0.6 + FITTINGS * ELEMENT_PA;
        return (Math.sqrt(a * a + 4 * b * dpPa) - a) / (2 * b);
    }

    private double stated(int filter) {
        return bank.loading(shown, flow, bank.logFittings(), 60)
                .orElseThrow()
                .get(filter - 1)
                .value();
    }

    @Test
    void debrisInOneFilterTellsWhatTheFittingsTakeAndSoItsLoading() {
        days(6);
        loading[2] = 2.2;
        days(2);
        FilterHistory third = bank.filters().get(2);
        assertThat(third.event().orElseThrow().kind()).isEqualTo(FilterEvent.Kind.DEBRIS);
        assertThat(bank.filters().get(0).event()).isEmpty();
        assertThat(Math.exp(bank.logFittings().value())).isCloseTo(FITTINGS, within(1.2));
        assertThat(stated(3)).isCloseTo(2.2, within(0.11));
        assertThat(stated(1)).isCloseTo(1, within(0.03));
    }

    @Test
    void aChangeOutIsSeenButTheBaselineStaysUntilSomebodyConfirmsIt() {
        days(6);
        loading[1] = 1.9;
        days(2);
        loading[1] = 1.02;
        days(1);
        FilterHistory seen = bank.filters().get(1);
        assertThat(seen.event().orElseThrow().kind()).isEqualTo(FilterEvent.Kind.CHANGE_OUT);
        assertThat(seen.learnt()).isTrue();
        FilterBankHistory confirmed = bank.maintained(2, Optional.empty(), Optional.of(at + 1));
        assertThat(confirmed.filters().get(1).learnt())
                .as("the new element is learnt anew")
                .isFalse();
        assertThat(confirmed.filters().get(0)).isEqualTo(bank.filters().get(0));
    }

    @Test
    void aBurstElementIsNoChangeOut() {
        days(6);
        loading[3] = 0.4;
        days(1);
        assertThat(bank.filters().get(3).event().orElseThrow().kind()).isEqualTo(FilterEvent.Kind.BYPASS);
    }

    @Test
    void anEntryOfAChangeResetsWithoutAnyStepSeen() {
        days(6);
        FilterBankHistory changed = bank.maintained(1, Optional.of(at), Optional.empty());
        assertThat(changed.filters().get(0).learnt()).isFalse();
        assertThat(changed.maintained(1, Optional.of(at), Optional.empty())).isEqualTo(changed);
    }

    /** All filters stepping alike is the flow meter, which reads 15 % less from now on. */
    @Test
    void aFlowMeterThatStepsMakesNoDebris() {
        days(6);
        for (int i = 0; i < 144; i++) {
            at += 600;
            double q = 0.6 + 0.3 * random.nextDouble();
            double read = 0.85 * q;
            shown = shown(q);
            bank = bank.after(
                    new LoopReading(
                            at,
                            Optional.empty(),
                            Optional.of(new BranchFlow(read, read * read)),
                            Optional.empty(),
                            shown,
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty()),
                    PRIORS);
        }
        assertThat(bank.filters()).allMatch(f -> f.event().isEmpty());
    }
}
