package io.loopwarden.replay;

import io.loopwarden.fleet.Sample;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.watch.UnitFigures;
import io.loopwarden.watch.UnitWatch;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.function.Consumer;

/**
 * Drives a watch with samples of the past and gives figures at even instants, each as the watch knew them then: after the samples up
 * to it, before those after. Maintenance entries are told when they were written.
 */
public final class Replay {

    private final UnitWatch watch;
    private final long everyS;
    private final Consumer<UnitFigures> each;
    private final Deque<MaintenanceEntry> untold;
    private long nextS = Long.MIN_VALUE;
    private Instant last;

    /** @param every from figures to figures, whole seconds */
    public Replay(UnitWatch watch, Duration every, List<MaintenanceEntry> entries, Consumer<UnitFigures> each) {
        if (every.toSeconds() < 1) {
            throw new ReplayException("figures every " + every + ", must be at least every second");
        }
        this.watch = watch;
        this.everyS = every.toSeconds();
        this.each = each;
        this.untold = new ArrayDeque<>(entries.stream()
                .sorted(Comparator.comparing(MaintenanceEntry::writtenAt))
                .toList());
    }

    /** Takes the next sample, no earlier than those before. */
    public void accept(Sample sample) {
        long second = sample.measuredAt().getEpochSecond();
        boolean afterWhole = sample.measuredAt().getNano() > 0;
        if (nextS == Long.MIN_VALUE) {
            nextS = -Math.floorDiv(-second, everyS) * everyS;
        }
        while (second > nextS || second == nextS && afterWhole) {
            figures();
            boolean silence = second > nextS + 2 * everyS;
            nextS = silence ? Math.floorDiv(second, everyS) * everyS : nextS;
        }
        tell(sample.measuredAt());
        watch.accept(sample);
        last = sample.measuredAt();
    }

    /** The last figures, at the end. */
    public void finish() {
        if (last != null && last.getEpochSecond() >= nextS) {
            figures();
        }
    }

    private void figures() {
        each.accept(watch.evaluate(Instant.ofEpochSecond(nextS)));
        nextS += everyS;
    }

    private void tell(Instant at) {
        while (!untold.isEmpty() && !untold.peek().writtenAt().isAfter(at)) {
            watch.accept(untold.poll());
        }
    }
}
