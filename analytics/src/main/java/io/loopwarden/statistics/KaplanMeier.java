package io.loopwarden.statistics;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Share of parts that outlive a time, from lives of which some had not ended when last seen (Kaplan and Meier 1958; NIST/SEMATECH
 * e-Handbook, section 8.2.1.5, with the product-limit estimate).
 *
 * @param steps by time; before the first the share is 1
 */
public record KaplanMeier(List<Step> steps) {

    /** From this time on. */
    public record Step(double time, double share) {}

    /** @param ended false where it was last seen alive */
    public record Life(double time, boolean ended) {}

    public KaplanMeier {
        steps = List.copyOf(steps);
    }

    public static KaplanMeier of(List<Life> lives) {
        // one that is last seen at the time of another's end outlived it
        List<Life> sorted = lives.stream()
                .sorted(Comparator.comparingDouble(Life::time).thenComparing(life -> !life.ended()))
                .toList();
        List<Step> steps = new ArrayList<>();
        double share = 1;
        for (int i = 0; i < sorted.size(); i++) {
            Life life = sorted.get(i);
            if (!life.ended()) {
                continue;
            }
            int atRisk = sorted.size() - i;
            share *= (atRisk - 1.0) / atRisk;
            boolean same = !steps.isEmpty() && steps.get(steps.size() - 1).time() == life.time();
            if (same) {
                steps.remove(steps.size() - 1);
            }
            steps.add(new Step(life.time(), share));
        }
        return new KaplanMeier(steps);
    }

    /** Share that outlives a time. */
    public double at(double time) {
        double share = 1;
        for (Step step : steps) {
            share = step.time() <= time ? step.share() : share;
        }
        return share;
    }
}
