package io.loopwarden.indicator;

import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.Map;
import java.util.TreeMap;

/** What each pump of a unit could do when it last ran without help; kept because a pump that stands still shows nothing. */
public record PumpRecord(Map<Integer, Seen> byNumber) {

    public static final PumpRecord EMPTY = new PumpRecord(Map.of());

    /** @param reserve flow at full speed over what the pump promises, as {@code pumping-reserve} */
    public record Seen(Estimate reserve, Instant at) {}

    public PumpRecord {
        byNumber = Map.copyOf(byNumber);
    }

    PumpRecord with(int number, Seen seen) {
        Map<Integer, Seen> all = new TreeMap<>(byNumber);
        all.put(number, seen);
        return new PumpRecord(all);
    }
}
