package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import io.loopwarden.inventory.LeakClass;
import io.loopwarden.inventory.LeakSuspicion;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * Why a leak is suspected or not.
 *
 * @param called the loss is beyond its false-alarm limit and a leak is likelier than anything else
 * @param shares probability of each explanation; what is left is "nothing"
 * @param reasons in order of weight
 * @param plot content of the loop over the last two days, ten minutes apart
 */
public record LeakView(
        Instant at,
        boolean called,
        String likeliest,
        Map<String, Double> shares,
        List<Reason> reasons,
        List<ContentAt> plot) {

    /** @param logOdds natural logarithm of the factor on the odds of a leak; 0 where the source says nothing */
    public record Reason(String source, double logOdds, String sentence) {}

    /** Relative to the first point; the content is at reference temperature with make-up put back. */
    public record ContentAt(Instant at, double contentM3, double levelM3) {}

    private static final double LITRE_M3 = 1e-3;

    static LeakView of(LeakSuspicion s) {
        Map<String, Double> shares = new TreeMap<>();
        for (Map.Entry<LeakClass, Double> each : s.shares().entrySet()) {
            shares.put(hyphenated(each.getKey()), each.getValue());
        }
        return new LeakView(
                s.at(),
                s.called(),
                hyphenated(s.likeliest()),
                shares,
                s.evidence().stream()
                        .map(e -> new Reason(e.source(), e.logOdds(), e.sentence()))
                        .toList(),
                s.plot().stream()
                        .map(p -> new ContentAt(
                                Instant.ofEpochSecond(p.epochS()), LITRE_M3 * p.contentL(), LITRE_M3 * p.levelL()))
                        .toList());
    }
}
