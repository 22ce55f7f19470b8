package io.loopwarden.hydraulics;

import io.loopwarden.hydraulics.LoopReading.BranchFlow;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The parallel filters of a unit since their elements were new.
 *
 * <p>A loaded filter sheds flow to the others, so that its differential pressure shows less than its loading. How much depends on what
 * the fittings of a branch take beside the element, F, which nobody measures. It is believed over a grid: a wrong F makes the other
 * filters seem to change when one of them steps, and elements seem to unload, which they do not.
 *
 * @param stepEvidence log likelihood of each F of the grid by steps so far
 * @param block sums of the apparent loadings since the block began
 * @param before mean apparent loadings of the block before
 * @param earlier the same of the one before that
 * @param stepped number of the filter that stepped up since {@code before}; 0 for none
 */
public record FilterBankHistory(
        List<FilterHistory> filters,
        List<Double> stepEvidence,
        List<Double> block,
        int blockOf,
        List<Double> before,
        List<Double> earlier,
        int stepped) {

    /** Fittings over the clean element at the reference state: 0.25 to 16. */
    private static final int GRID = 13;

    private static final double GRID_FROM = 0.25;
    private static final double GRID_STEP = Math.sqrt(2);

    /** Valves, housing and tees take about twice the clean element (common practice, no source). */
    private static final double PRIOR_MEDIAN = 2;

    private static final double PRIOR_LOG_SD = 0.8;

    private static final int BLOCK = 18;
    private static final double UNLOADING = 0.02;

    /** What the loading of a filter that did not step may be off by, from one block to the next. */
    private static final double UNSTEPPED = 0.006;

    /** From the middle of the block before a step to the middle of the one after: with what was begun before, one and a half. */
    private static final double BLOCKS_OVER_A_STEP = 1.5;

    private static final double MOST_AGAINST = 8;
    /** Between that of viscous and of inertial resistance. */
    private static final double FLOW_EXPONENT = 1.7;

    private static final BranchFlow REFERENCE = new BranchFlow(1, 1);

    public static FilterBankHistory begin(int filters) {
        return new FilterBankHistory(
                Collections.nCopies(filters, FilterHistory.NEW),
                Collections.nCopies(GRID, 0.0),
                Collections.nCopies(filters, 0.0),
                0,
                List.of(),
                List.of(),
                0);
    }

    public FilterBankHistory {
        filters = List.copyOf(filters);
        stepEvidence = List.copyOf(stepEvidence);
        block = List.copyOf(block);
        before = List.copyOf(before);
        earlier = List.copyOf(earlier);
    }

    private static double fittings(int grid) {
        return GRID_FROM * Math.pow(GRID_STEP, grid);
    }

    /** Every filter has shown long enough what it is when clean. */
    public boolean learnt() {
        return !filters.isEmpty() && filters.stream().allMatch(FilterHistory::learnt);
    }

    /** After one reading; the same where it does not hold all filters. */
    FilterBankHistory after(LoopReading reading, FilterHistory.Priors priors) {
        if (reading.tcs().isEmpty() || !complete(reading.filterPa())) {
            return this;
        }
        BranchFlow flow = reading.tcs().get();
        List<FilterHistory> next = new ArrayList<>(filters);
        for (int i = 0; i < next.size(); i++) {
            next.set(i, next.get(i).learn(reading.epochS(), reading.filterPa().get(i + 1), flow, priors));
        }
        FilterBankHistory taught = with(next);
        return taught.learnt() ? taught.loaded(reading, flow) : taught;
    }

    private boolean complete(Map<Integer, Double> filterPa) {
        for (int n = 1; n <= filters.size(); n++) {
            if (!filterPa.containsKey(n)) {
                return false;
            }
        }
        return !filters.isEmpty();
    }

    private FilterBankHistory loaded(LoopReading reading, BranchFlow flow) {
        double[] apparent = apparent(reading.filterPa(), flow);
        double[] ratio = loading(apparent, flow, mostLikely());
        boolean common = common(ratio);
        List<FilterHistory> next = new ArrayList<>(filters);
        boolean down = false;
        int up = stepped;
        for (int i = 0; i < ratio.length; i++) {
            Optional<FilterEvent> was = next.get(i).event();
            next.set(i, next.get(i).loaded(reading.epochS(), apparent[i], ratio[i], common));
            Optional<FilterEvent> is = next.get(i).event();
            if (is.isPresent() && !is.equals(was)) {
                boolean debris = is.get().kind() == FilterEvent.Kind.DEBRIS;
                down |= !debris;
                up = debris ? i + 1 : up;
            }
        }
        if (down) {
            return new FilterBankHistory(next, stepEvidence, zeros(), 0, List.of(), List.of(), 0);
        }
        return up == stepped
                ? with(next).blocked(apparent)
                : new FilterBankHistory(next, stepEvidence, zeros(), 0, before, earlier, up);
    }

    private List<Double> zeros() {
        return Collections.nCopies(filters.size(), 0.0);
    }

    private FilterBankHistory with(List<FilterHistory> next) {
        return new FilterBankHistory(next, stepEvidence, block, blockOf, before, earlier, stepped);
    }

    /** Gathers apparent loadings; the first full block after a step is held against the last one before it. */
    private FilterBankHistory blocked(double[] apparent) {
        List<Double> sums = new ArrayList<>();
        for (int i = 0; i < apparent.length; i++) {
            sums.add(block.get(i) + apparent[i]);
        }
        if (blockOf + 1 < BLOCK) {
            return new FilterBankHistory(filters, stepEvidence, sums, blockOf + 1, before, earlier, stepped);
        }
        List<Double> means = sums.stream().map(s -> s / BLOCK).toList();
        List<Double> evidence = new ArrayList<>(stepEvidence);
        if (stepped > 0 && !before.isEmpty() && !earlier.isEmpty()) {
            for (int g = 0; g < GRID; g++) {
                evidence.set(g, evidence.get(g) - againstOthers(means, fittings(g)));
            }
        }
        return new FilterBankHistory(filters, evidence, zeros(), 0, means, before, 0);
    }

    /** How unlikely it is that the filters which did not step changed as a way of sharing the flow makes them seem to. */
    private double againstOthers(List<Double> after, double fittingsRatio) {
        double[] then = loading(array(earlier), REFERENCE, fittingsRatio);
        double[] last = loading(array(before), REFERENCE, fittingsRatio);
        double[] now = loading(array(after), REFERENCE, fittingsRatio);
        double sum = 0;
        for (int i = 0; i < now.length; i++) {
            if (i != stepped - 1) {
                double usual = last[i] - then[i];
                double change = now[i] - last[i] - BLOCKS_OVER_A_STEP * usual;
                double u = Math.hypot(UNSTEPPED, usual / 2);
                sum += Math.min(MOST_AGAINST, 0.5 * change * change / (u * u));
            }
        }
        return sum;
    }

    private static double[] array(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }

    /** Differential pressures over the clean ones at an even share. */
    private double[] apparent(Map<Integer, Double> filterPa, BranchFlow flow) {
        double[] apparent = new double[filters.size()];
        for (int i = 0; i < apparent.length; i++) {
            FilterHistory filter = filters.get(i);
            apparent[i] = Math.max(0, (filterPa.get(i + 1) - filter.offsetPa()) / filter.cleanPa(flow));
        }
        return apparent;
    }

    /** Loadings over clean by the apparent ones, with how the flow is shared now and was shared when clean. */
    private double[] loading(double[] apparent, BranchFlow flow, double fittingsRatio) {
        int n = apparent.length;
        double[] clean = new double[n];
        double[] now = new double[n];
        double level = 0;
        for (int i = 0; i < n; i++) {
            clean[i] = filters.get(i).cleanPa(flow);
            now[i] = apparent[i] * clean[i];
            level += filters.get(i).cleanPa(REFERENCE) / n;
        }
        double[] sharesThen = FlowShares.of(clean, fittingsRatio * level, flow);
        double[] shares = FlowShares.of(now, fittingsRatio * level, flow);
        double[] ratio = new double[n];
        for (int i = 0; i < n; i++) {
            FilterHistory filter = filters.get(i);
            ratio[i] = apparent[i] * filter.cleanPa(flow, sharesThen[i]) / filter.cleanPa(flow, shares[i]);
        }
        return ratio;
    }

    /** All filters off their usual loading on one side by much the same: the flow meter, not the filters. */
    private boolean common(double[] ratio) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        boolean clean = true;
        for (int i = 0; i < ratio.length; i++) {
            FilterHistory filter = filters.get(i);
            if (filter.usualOf() == 0) {
                return false;
            }
            double change = ratio[i] / filter.usual() - 1;
            least = Math.min(least, change);
            most = Math.max(most, change);
            clean &= ratio[i] > 0.8 && ratio[i] < 1.25;
        }
        boolean alike = least > 0.08 && most < 1.5 * least || most < -0.08 && least > 1.5 * most;
        return ratio.length > 1 && alike && !clean;
    }

    /** Log belief in each F: prior, steps, and that no filter has unloaded. */
    private double[] belief() {
        double[] log = new double[GRID];
        double[] now = before.isEmpty() ? null : array(before);
        double most = Double.NEGATIVE_INFINITY;
        for (int g = 0; g < GRID; g++) {
            double z = Math.log(fittings(g) / PRIOR_MEDIAN) / PRIOR_LOG_SD;
            log[g] = stepEvidence.get(g) - 0.5 * z * z;
            if (now != null) {
                double least = Double.POSITIVE_INFINITY;
                for (double ratio : loading(now, REFERENCE, fittings(g))) {
                    least = Math.min(least, ratio);
                }
                double unloaded = Math.max(0, 1 - least) / UNLOADING;
                log[g] -= Math.min(MOST_AGAINST, 0.5 * unloaded * unloaded);
            }
            most = Math.max(most, log[g]);
        }
        for (int g = 0; g < GRID; g++) {
            log[g] -= most;
        }
        return log;
    }

    /** Mean and standard deviation of ln F. */
    public Estimate logFittings() {
        double[] log = belief();
        double sum = 0;
        double mean = 0;
        double square = 0;
        for (int g = 0; g < GRID; g++) {
            double weight = Math.exp(log[g]);
            double x = Math.log(fittings(g));
            sum += weight;
            mean += weight * x;
            square += weight * x * x;
        }
        mean /= sum;
        return new Estimate(mean, Math.sqrt(Math.max(0, square / sum - mean * mean)));
    }

    private double mostLikely() {
        return Math.exp(logFittings().value());
    }

    /**
     * Loading of each filter over clean, with its uncertainty; only once all are learnt and where all are measured.
     *
     * @param fittings {@link #logFittings}, which changes seldom
     * @param noisePa standard uncertainty of a differential pressure beside its constant offset
     */
    public Optional<List<Estimate>> loading(
            Map<Integer, Double> filterPa, BranchFlow flow, Estimate fittings, double noisePa) {
        if (!learnt() || !complete(filterPa)) {
            return Optional.empty();
        }
        double[] apparent = apparent(filterPa, flow);
        double[] middle = loading(apparent, flow, Math.exp(fittings.value()));
        double[] above = loading(apparent, flow, Math.exp(fittings.value() + fittings.standardUncertainty()));
        double[] below = loading(apparent, flow, Math.exp(fittings.value() - fittings.standardUncertainty()));
        List<Estimate> all = new ArrayList<>();
        for (int i = 0; i < middle.length; i++) {
            FilterHistory filter = filters.get(i);
            double clean = filter.cleanPa(flow);
            double known = filter.cleanUncertaintyPa(flow, apparent[i]) / clean;
            double noise = noisePa / clean;
            double shares = Math.abs(above[i] - below[i]) / 2;
            all.add(new Estimate(middle[i], Math.sqrt(known * known + noise * noise + shares * shares)));
        }
        return Optional.of(all);
    }

    /**
     * Loading, as it shows, at which a filter takes its terminal differential pressure at rated flow and 40 °C.
     *
     * @param index of the filter, from 0
     * @param flowUncertaintyRatio of the flow meter: rated flow is where it says so
     */
    public Optional<Estimate> dueRatio(int index, double terminalPa, double flowUncertaintyRatio) {
        if (!learnt()) {
            return Optional.empty();
        }
        FilterHistory filter = filters.get(index);
        double clean = filter.cleanPa(REFERENCE);
        double due = terminalPa / clean;
        double known = filter.cleanUncertaintyPa(REFERENCE, 1) / clean;
        return Optional.of(new Estimate(due, due * Math.hypot(known, FLOW_EXPONENT * flowUncertaintyRatio)));
    }

    FilterBankHistory maintained(int number, Optional<Double> changedS, Optional<Double> confirmedS) {
        FilterHistory was = filters.get(number - 1);
        FilterHistory is = was.maintained(changedS, confirmedS);
        if (is.equals(was)) {
            return this;
        }
        List<FilterHistory> next = new ArrayList<>(filters);
        next.set(number - 1, is);
        return new FilterBankHistory(next, stepEvidence, zeros(), 0, List.of(), List.of(), 0);
    }
}
