package io.loopwarden.inventory;

import io.loopwarden.maintenance.Amount;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * Coolant put in or taken out by people, as they wrote it down. An entry explains its own time and, where it names an amount, that
 * amount; what goes beyond stays a loss. For one thread.
 */
final class Explained {

    /** Clocks of people: work may begin a little before and end a little after what was written. */
    private static final int EARLY_S = 120;

    private static final int LATE_S = 300;
    private static final double AMOUNT_SHARE = 0.1;
    private static final double AMOUNT_L = 1.5;

    /** @param addedL coolant put in, negative if taken out; empty if nobody wrote how much */
    private record Work(UUID id, MaintenanceKind kind, long fromS, long untilS, Optional<Double> addedL) {}

    /** What holds for one minute. */
    record Step(boolean inside, double addedL, double toleranceL, boolean unknownAmount) {
        static final Step NONE = new Step(false, 0, 0, false);
    }

    /** Work that was over before its entry came. */
    record Past(long fromS, long untilS, double addedL, double toleranceL, boolean amountKnown, boolean drain) {}

    private List<Work> work = List.of();
    private final Map<UUID, Double> applied = new HashMap<>();
    private Optional<String> latest = Optional.empty();
    private long latestUntilS = Long.MIN_VALUE;

    void accept(MaintenanceLog log) {
        work = log.entries().stream()
                .filter(e -> e.kind() == MaintenanceKind.TOP_UP
                        || e.kind() == MaintenanceKind.DRAIN
                        || e.kind() == MaintenanceKind.OUT_OF_USE)
                .map(Explained::work)
                .toList();
    }

    private static Work work(MaintenanceEntry e) {
        Optional<Double> litres = e.amount().flatMap(Explained::litres);
        Optional<Double> added = switch (e.kind()) {
            case TOP_UP -> litres;
            case DRAIN -> litres.map(l -> -l);
            default -> Optional.empty();
        };
        return new Work(e.id(), e.kind(), e.from().getEpochSecond(), e.until().getEpochSecond(), added);
    }

    private static Optional<Double> litres(Amount amount) {
        return switch (amount.unit()) {
            case "L", "l" -> Optional.of(amount.value());
            case "m3" -> Optional.of(1000 * amount.value());
            case "[gal_us]" -> Optional.of(3.785411784 * amount.value());
            default -> Optional.empty();
        };
    }

    List<LeakMemory.Applied> memory() {
        List<LeakMemory.Applied> all = new ArrayList<>();
        applied.forEach((id, added) -> all.add(new LeakMemory.Applied(id.toString(), added)));
        all.sort(Comparator.comparing(LeakMemory.Applied::entry));
        return all;
    }

    void restore(List<LeakMemory.Applied> remembered) {
        remembered.forEach(a -> applied.put(UUID.fromString(a.entry()), a.addedL()));
    }

    boolean covers(long second) {
        for (Work w : work) {
            if (second >= w.fromS - EARLY_S && second <= w.untilS + LATE_S) {
                return true;
            }
        }
        return false;
    }

    Step step(long fromS, long toS) {
        if (work.isEmpty()) {
            return Step.NONE;
        }
        boolean inside = false;
        double added = 0;
        double tolerance = 0;
        boolean unknown = false;
        for (Work w : work) {
            if (toS > w.fromS - EARLY_S && fromS <= w.untilS + LATE_S) {
                inside = true;
            } else if (fromS > w.untilS + LATE_S && !applied.containsKey(w.id)) {
                applied.put(w.id, w.addedL.orElse(0.0));
                added += w.addedL.orElse(0.0);
                tolerance = Math.hypot(tolerance, toleranceL(w));
                unknown |= w.addedL.isEmpty();
                name(w);
            }
        }
        return new Step(inside, added, tolerance, unknown);
    }

    /** Entries about a time before the given one that were not known then, and those that no longer hold. */
    List<Past> takePast(long nowS) {
        List<Past> past = new ArrayList<>();
        for (Work w : work) {
            if (w.untilS + LATE_S < nowS && !applied.containsKey(w.id)) {
                applied.put(w.id, w.addedL.orElse(0.0));
                past.add(new Past(
                        w.fromS - EARLY_S,
                        w.untilS + LATE_S,
                        w.addedL.orElse(0.0),
                        toleranceL(w),
                        w.addedL.isPresent(),
                        w.kind == MaintenanceKind.DRAIN));
                name(w);
            }
        }
        List<UUID> known = work.stream().map(Work::id).toList();
        applied.entrySet().removeIf(e -> {
            boolean gone = !known.contains(e.getKey());
            if (gone) {
                past.add(new Past(nowS, nowS, -e.getValue(), 0, true, false));
            }
            return gone;
        });
        return past;
    }

    private static double toleranceL(Work w) {
        return AMOUNT_L + AMOUNT_SHARE * Math.abs(w.addedL.orElse(0.0));
    }

    private void name(Work w) {
        if (w.untilS > latestUntilS) {
            latestUntilS = w.untilS;
            String amount = w.addedL.map(l -> " of " + Litres.of(Math.abs(l))).orElse("");
            latest = Optional.of("A " + w.kind.word() + amount + " in the maintenance log explains what it says.");
        }
    }

    /** A sentence about the last entry, for two days after the work. */
    Optional<String> latest(long nowS) {
        return nowS - latestUntilS < 2 * 86400 ? latest : Optional.empty();
    }
}
