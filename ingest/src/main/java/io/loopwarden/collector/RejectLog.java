package io.loopwarden.collector;

import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.ConcurrentHashMap;

/** Counts what was refused by connection and reason, and keeps the last example of each. Bounded: one entry a pair. */
public final class RejectLog {

    /** An example keeps at most this much of the payload. */
    static final int EXAMPLE_BYTES = 512;

    /**
     * @param count how many, since start
     * @param lastDetail one sentence: which tag, value, limit
     * @param lastPayload the beginning of the last refused payload: text where it is printable, else hexadecimal
     */
    public record Entry(
            String connection,
            RejectReason reason,
            long count,
            Instant lastAt,
            String lastDetail,
            String lastPayload) {}

    private record Key(String connection, RejectReason reason) {}

    private final ConcurrentHashMap<Key, Entry> entries = new ConcurrentHashMap<>();
    private final Clock clock;

    public RejectLog(Clock clock) {
        this.clock = Objects.requireNonNull(clock, "clock");
    }

    public void reject(String connection, RejectReason reason, String detail, byte[] payload) {
        Instant now = clock.instant();
        String example = printable(payload);
        entries.merge(
                new Key(connection, reason),
                new Entry(connection, reason, 1, now, detail, example),
                (old, one) -> new Entry(connection, reason, old.count() + 1, now, detail, example));
    }

    public void reject(String connection, RejectReason reason, String detail, String payload) {
        reject(connection, reason, detail, payload.getBytes(StandardCharsets.UTF_8));
    }

    public List<Entry> entries() {
        List<Entry> all = new ArrayList<>(entries.values());
        all.sort(Comparator.comparing(Entry::connection).thenComparing(Entry::reason));
        return all;
    }

    public long count(RejectReason reason) {
        return entries.values().stream()
                .filter(entry -> entry.reason() == reason)
                .mapToLong(Entry::count)
                .sum();
    }

    private static String printable(byte[] payload) {
        byte[] head = payload.length <= EXAMPLE_BYTES ? payload : Arrays.copyOf(payload, EXAMPLE_BYTES);
        String text = new String(head, StandardCharsets.UTF_8);
        boolean clean = text.chars().allMatch(c -> c == '\n' || c == '\t' || (c >= ' ' && c != 0xFFFD));
        return clean ? text : HexFormat.of().formatHex(head);
    }
}
