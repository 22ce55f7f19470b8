package io.loopwarden.maintenance;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What was written about one unit. The order in which entries arrive does not matter, and a repeated one counts once.
 *
 * @param written every entry, withdrawals and withdrawn ones too, in the order of the work
 */
public record MaintenanceLog(List<MaintenanceEntry> written) {

    private static final Comparator<MaintenanceEntry> BY_WORK =
            Comparator.comparing(MaintenanceEntry::from).thenComparing(MaintenanceEntry::id);

    /** Made after the order it is sorted by. */
    public static final MaintenanceLog EMPTY = new MaintenanceLog(List.of());

    public MaintenanceLog {
        written = written.stream().sorted(BY_WORK).toList();
    }

    /** The log with one more entry; the same log if it is in it. */
    public MaintenanceLog with(MaintenanceEntry entry) {
        if (written.stream().anyMatch(e -> e.id().equals(entry.id()))) {
            return this;
        }
        List<MaintenanceEntry> more = new ArrayList<>(written);
        more.add(entry);
        return new MaintenanceLog(more);
    }

    /** The entries that hold: neither withdrawals nor what they withdraw. */
    public List<MaintenanceEntry> entries() {
        Set<UUID> withdrawn = written.stream()
                .map(MaintenanceEntry::withdraws)
                .flatMap(Optional::stream)
                .collect(Collectors.toSet());
        return written.stream()
                .filter(e -> e.kind() != MaintenanceKind.WITHDRAWAL && !withdrawn.contains(e.id()))
                .toList();
    }

    /** The entries of a kind that hold and concern a part. */
    public Stream<MaintenanceEntry> of(MaintenanceKind kind, String part) {
        return entries().stream().filter(e -> e.kind() == kind && e.concerns(part));
    }

    /** End of the last work of a kind on a part, at or before an instant. */
    public Optional<Instant> last(MaintenanceKind kind, String part, Instant at) {
        return of(kind, part)
                .map(MaintenanceEntry::until)
                .filter(until -> !until.isAfter(at))
                .max(Comparator.naturalOrder());
    }
}
