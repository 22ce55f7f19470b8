package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;
import java.util.ArrayList;
import java.util.List;

/**
 * A figure's means by day of UTC, oldest first; bounded.
 *
 * @param days at most {@value #MOST_DAYS}
 */
public record DailyTrack(List<Day> days) {

    public static final DailyTrack EMPTY = new DailyTrack(List.of());

    private static final int MOST_DAYS = 400;
    private static final int SECONDS_PER_DAY = 86_400;
    /** Values of one day look alike; no more of them count as independent. */
    private static final int MOST_INDEPENDENT = 4;

    /**
     * One day.
     *
     * @param meanEpochS mean time of its values
     * @param squares sum of squared deviations from the mean
     */
    public record Day(long epochDay, int count, double meanEpochS, double mean, double squares) {

        Day with(double epochS, double value) {
            double d = value - mean;
            double next = mean + d / (count + 1);
            return new Day(
                    epochDay,
                    count + 1,
                    meanEpochS + (epochS - meanEpochS) / (count + 1),
                    next,
                    squares + d * (value - next));
        }

        /** Standard uncertainty of the mean by scatter. */
        public double scatterUncertainty() {
            double deviation = count < 2 ? 0 : Math.sqrt(squares / (count - 1));
            return deviation / Math.sqrt(Math.min(count, MOST_INDEPENDENT));
        }
    }

    public DailyTrack {
        days = List.copyOf(days);
    }

    /** One more value; one that is older than the newest day is left out. */
    public DailyTrack with(double epochS, double value) {
        long today = (long) Math.floor(epochS / SECONDS_PER_DAY);
        int last = days.size() - 1;
        if (last >= 0 && days.get(last).epochDay() > today) {
            return this;
        }
        List<Day> next = new ArrayList<>(days);
        if (last >= 0 && days.get(last).epochDay() == today) {
            next.set(last, days.get(last).with(epochS, value));
        } else {
            next.add(new Day(today, 1, epochS, value, 0));
        }
        return new DailyTrack(next.subList(Math.max(0, next.size() - MOST_DAYS), next.size()));
    }

    /** Days that are over at that time, beginning with a first one. */
    public List<Day> whole(double fromEpochS, double untilEpochS) {
        long today = (long) Math.floor(untilEpochS / SECONDS_PER_DAY);
        return days.stream()
                .filter(d -> d.meanEpochS() >= fromEpochS && d.epochDay() < today)
                .toList();
    }

    /** Mean of the latest whole days, with its scatter. */
    public Computed<Estimate> level(double fromEpochS, double untilEpochS, int latest) {
        List<Day> whole = whole(fromEpochS, untilEpochS);
        if (whole.isEmpty()) {
            return Computed.unavailable(Reason.BASELINE_MISSING, "No whole day has been measured yet.");
        }
        List<Day> last = whole.subList(Math.max(0, whole.size() - latest), whole.size());
        double mean = last.stream().mapToDouble(Day::mean).average().orElseThrow();
        double squares = 0;
        for (Day day : last) {
            squares += Math.pow(day.scatterUncertainty() / last.size(), 2);
        }
        return Computed.of(new Estimate(mean, Math.sqrt(squares)));
    }
}
