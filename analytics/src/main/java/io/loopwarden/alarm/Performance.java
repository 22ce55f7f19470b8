package io.loopwarden.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * How well the alarms serve the people they call, in the figures of IEC 62682 and EEMUA 191.
 *
 * @param annunciated alarms that asked for attention
 * @param perTenMinutes their mean rate for one operator
 * @param peakInTenMinutes the most in one period of ten minutes for one operator
 * @param shareOfFloodPeriods share of ten-minute periods with more than ten alarms for one operator
 * @param floods begin, end and number of alarms of each flood
 * @param byPriority number by priority
 * @param frequent the ten most frequent alarms, most frequent first
 * @param shareOfFrequent their share of all alarms
 * @param chattering alarms that were raised three times or more within a minute
 * @param stale alarms that have stood for more than a day
 * @param medianToAcknowledge time from raised to acknowledged
 * @param ninetyPercentAcknowledgedWithin nine of ten were acknowledged within this time
 * @param unanswered raised, and neither acknowledged so far nor kept from people
 */
public record Performance(
        Instant from,
        Instant to,
        int operators,
        int annunciated,
        double perTenMinutes,
        double peakInTenMinutes,
        double shareOfFloodPeriods,
        List<FloodSpan> floods,
        Map<Priority, Integer> byPriority,
        List<Frequent> frequent,
        double shareOfFrequent,
        List<AlarmId> chattering,
        List<AlarmId> stale,
        Optional<Duration> medianToAcknowledge,
        Optional<Duration> ninetyPercentAcknowledgedWithin,
        int unanswered) {

    static final Duration STALE_AFTER = Duration.ofHours(24);
    private static final int FREQUENT = 10;
    private static final int CHATTERS = 3;
    private static final Duration CHATTER = Duration.ofMinutes(1);

    public record FloodSpan(Instant from, Instant to, int alarms) {}

    public record Frequent(AlarmId alarm, int count) {}

    /**
     * @param history every transition from {@code from} to {@code to}, in order
     * @param standing every alarm as it is at {@code to}
     */
    public static Performance of(
            List<Transition> history,
            List<Alarm> standing,
            Function<String, Optional<Definition>> definitionOf,
            Instant from,
            Instant to,
            int operators) {
        List<Transition> raised =
                history.stream().filter(Transition::annunciates).toList();
        int[] periods = periods(raised, from, to);
        double flooded = 0;
        int peak = 0;
        for (int count : periods) {
            flooded += count > Flood.BEGINS_ABOVE * operators ? 1 : 0;
            peak = Math.max(peak, count);
        }
        Map<AlarmId, List<Instant>> byAlarm = new HashMap<>();
        raised.forEach(each ->
                byAlarm.computeIfAbsent(each.id(), id -> new ArrayList<>()).add(each.at()));
        List<Frequent> frequent = byAlarm.entrySet().stream()
                .map(entry -> new Frequent(entry.getKey(), entry.getValue().size()))
                .sorted(Comparator.comparingInt(Frequent::count).reversed().thenComparing(Frequent::alarm))
                .limit(FREQUENT)
                .toList();
        Map<Priority, Integer> byPriority = new EnumMap<>(Priority.class);
        for (Priority priority : Priority.values()) {
            byPriority.put(priority, 0);
        }
        raised.forEach(each -> definitionOf
                .apply(each.id().definition())
                .ifPresent(definition -> byPriority.merge(definition.priority(), 1, Integer::sum)));
        Answers answers = Answers.of(history);
        double share = frequent.stream().mapToInt(Frequent::count).sum() / (double) Math.max(1, raised.size());
        return new Performance(
                from,
                to,
                operators,
                raised.size(),
                raised.size() / (double) periods.length / operators,
                peak / (double) operators,
                flooded / periods.length,
                floods(raised, to, operators),
                byPriority,
                frequent,
                share,
                byAlarm.entrySet().stream()
                        .filter(entry -> chatters(entry.getValue()))
                        .map(Map.Entry::getKey)
                        .sorted()
                        .toList(),
                standing.stream()
                        .filter(alarm -> alarm.state().stands() && alarm.condition())
                        .filter(alarm -> alarm.raisedAt()
                                .filter(at -> at.plus(STALE_AFTER).isBefore(to))
                                .isPresent())
                        .map(Alarm::id)
                        .sorted()
                        .toList(),
                answers.quantile(0.5),
                answers.quantile(0.9),
                answers.open());
    }

    private static int[] periods(List<Transition> raised, Instant from, Instant to) {
        long length = Flood.PERIOD.toMillis();
        int[] counts = new int[(int) Math.max(1, (Duration.between(from, to).toMillis() + length - 1) / length)];
        for (Transition each : raised) {
            long period = Duration.between(from, each.at()).toMillis() / length;
            if (period >= 0 && period < counts.length) {
                counts[(int) period]++;
            }
        }
        return counts;
    }

    private static boolean chatters(List<Instant> times) {
        for (int i = CHATTERS - 1; i < times.size(); i++) {
            if (Duration.between(times.get(i - CHATTERS + 1), times.get(i)).compareTo(CHATTER) <= 0) {
                return true;
            }
        }
        return false;
    }

    private static List<FloodSpan> floods(List<Transition> raised, Instant to, int operators) {
        List<FloodSpan> spans = new ArrayList<>();
        Flood flood = new Flood();
        Instant begin = null;
        int count = 0;
        for (Transition each : raised) {
            if (begin != null && flood.since(each.at(), operators).isEmpty()) {
                spans.add(new FloodSpan(begin, each.at(), count));
                begin = null;
            }
            flood.raised(each.at());
            if (begin == null && flood.since(each.at(), operators).isPresent()) {
                begin = each.at();
                count = Flood.BEGINS_ABOVE * operators;
            }
            count++;
        }
        if (begin != null) {
            spans.add(new FloodSpan(begin, to, count));
        }
        return spans;
    }

    /** Times from raised to acknowledged. */
    private record Answers(List<Duration> sorted, int open) {

        static Answers of(List<Transition> history) {
            Map<AlarmId, Instant> waiting = new HashMap<>();
            List<Duration> times = new ArrayList<>();
            for (Transition each : history) {
                if (each.annunciates()) {
                    waiting.putIfAbsent(each.id(), each.at());
                } else if (each.event() == AlarmEvent.ACKNOWLEDGE && waiting.containsKey(each.id())) {
                    times.add(Duration.between(waiting.remove(each.id()), each.at()));
                } else if (each.to().inhibited()) {
                    waiting.remove(each.id());
                }
            }
            times.sort(null);
            return new Answers(times, waiting.size());
        }

        Optional<Duration> quantile(double share) {
            return sorted.isEmpty()
                    ? Optional.empty()
                    : Optional.of(sorted.get((int) Math.ceil(share * sorted.size()) - 1));
        }
    }
}
