package io.loopwarden.availability;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * How one unit has fared: time in each condition by month, and the latest changes. Bounded.
 *
 * @param months oldest first, at most {@value #MOST_MONTHS}
 * @param now condition when last seen
 * @param atEpochS when that was; 0 before the first time
 * @param changes oldest first, at most {@value #MOST_CHANGES}
 * @param runs operating times that ended in a failure, s, oldest first, at most {@value #MOST_CHANGES}
 * @param runS operating time since the last failure or the beginning
 */
public record UnitLife(
        List<Month> months, Condition now, double atEpochS, List<Change> changes, List<Double> runs, double runS) {

    public static final UnitLife NEW = new UnitLife(List.of(), Condition.UNKNOWN, 0, List.of(), List.of(), 0);

    private static final int MOST_MONTHS = 36;
    private static final int MOST_CHANGES = 64;

    /** What nobody looked at for longer is not known. */
    private static final double MOST_GAP_S = 900;

    /**
     * One month of UTC.
     *
     * @param number year · 12 + month − 1
     * @param seconds in each {@link Condition}, in their order
     * @param failures how often it went down
     */
    public record Month(long number, List<Double> seconds, int failures) {

        public Month {
            seconds = List.copyOf(seconds);
        }

        static Month empty(long number) {
            return new Month(number, Collections.nCopies(Condition.values().length, 0.0), 0);
        }

        Month with(Condition condition, double more) {
            List<Double> next = new ArrayList<>(seconds);
            next.set(condition.ordinal(), next.get(condition.ordinal()) + more);
            return new Month(number, next, failures);
        }

        Month failed() {
            return new Month(number, seconds, failures + 1);
        }
    }

    /** From then on. */
    public record Change(double atEpochS, Condition to) {}

    public UnitLife {
        months = List.copyOf(months);
        changes = List.copyOf(changes);
        runs = List.copyOf(runs);
    }

    /**
     * After a look at the unit. The time since the last look counts as what was seen then, or as unknown where it is long.
     *
     * @param month number of the month, year · 12 + month − 1
     */
    public UnitLife after(double epochS, long month, Condition seen) {
        if (atEpochS > 0 && epochS <= atEpochS) {
            return this;
        }
        double passed = atEpochS == 0 ? 0 : epochS - atEpochS;
        Condition was = passed > MOST_GAP_S ? Condition.UNKNOWN : now;
        List<Month> nextMonths = new ArrayList<>(months);
        int last = nextMonths.size() - 1;
        if (last < 0 || nextMonths.get(last).number() != month) {
            nextMonths.add(Month.empty(month));
            last = nextMonths.size() - 1;
        }
        Month current = nextMonths.get(last).with(was, passed);
        boolean fails = seen == Condition.DOWN && now != Condition.DOWN && lastKnownUp();
        nextMonths.set(last, fails ? current.failed() : current);
        double run = was.isUp() ? runS + passed : runS;
        return new UnitLife(
                tail(nextMonths, MOST_MONTHS),
                seen,
                epochS,
                seen == now ? changes : plus(changes, new Change(epochS, seen)),
                fails ? plus(runs, run) : runs,
                fails ? 0 : run);
    }

    /** The last condition that was known is one in which it cools: a failure seen twice around a gap counts once. */
    private boolean lastKnownUp() {
        for (int i = changes.size() - 1; i >= 0; i--) {
            Condition to = changes.get(i).to();
            if (to != Condition.UNKNOWN) {
                return to.isUp();
            }
        }
        return false;
    }

    private static <T> List<T> plus(List<T> list, T more) {
        List<T> next = new ArrayList<>(list);
        next.add(more);
        return tail(next, MOST_CHANGES);
    }

    private static <T> List<T> tail(List<T> list, int most) {
        return list.subList(Math.max(0, list.size() - most), list.size());
    }

    /** Seconds in a condition, of all months. */
    public double seconds(Condition condition) {
        return months.stream()
                .mapToDouble(m -> m.seconds().get(condition.ordinal()))
                .sum();
    }

    public long failures() {
        return months.stream().mapToLong(Month::failures).sum();
    }
}
