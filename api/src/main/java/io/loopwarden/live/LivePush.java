package io.loopwarden.live;

import io.loopwarden.fleet.UnitId;
import java.time.Duration;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * Sends each reader what changed since its last message. A reader that is still busy with the last message gets the newest state later,
 * never a backlog; one that stays busy for too long is dropped, so that no reader can hold up another or fill our memory.
 */
public final class LivePush {

    /** One open page. */
    public interface Channel {
        String id();

        CompletionStage<Void> send(String text);

        void drop();
    }

    private static final class Reader {
        final Channel channel;
        final Set<UnitId> pending = new LinkedHashSet<>();
        Optional<UnitId> focus = Optional.empty();
        Optional<String> notice = Optional.empty();
        boolean busy;
        long busySinceNanos;

        Reader(Channel channel) {
            this.channel = channel;
        }
    }

    private final Map<String, Reader> readers = new ConcurrentHashMap<>();
    private final AtomicLong dropped = new AtomicLong();
    private final Duration patience;

    public LivePush(Duration patience) {
        this.patience = patience;
    }

    public void opened(Channel channel) {
        readers.put(channel.id(), new Reader(channel));
    }

    public void closed(String id) {
        readers.remove(id);
    }

    /** The page also wants every detail of one unit. */
    public void focus(String id, Optional<UnitId> unit) {
        Reader reader = readers.get(id);
        if (reader != null) {
            synchronized (reader) {
                reader.focus = unit;
                unit.ifPresent(reader.pending::add);
            }
        }
    }

    public int readerCount() {
        return readers.size();
    }

    public long droppedCount() {
        return dropped.get();
    }

    /**
     * @param changed units that changed since the last call
     * @param fleetMessage makes the message for those units
     * @param unitMessage makes the detailed message for one unit
     */
    public void changed(
            Collection<UnitId> changed,
            Function<Set<UnitId>, String> fleetMessage,
            Function<UnitId, String> unitMessage) {
        Set<UnitId> these = new LinkedHashSet<>(changed);
        String shared = readers.isEmpty() || these.isEmpty() ? "" : fleetMessage.apply(these);
        for (Reader reader : readers.values()) {
            serve(reader, these, shared, fleetMessage, unitMessage);
        }
    }

    /** Tells every reader something that replaces what it was told before; one that is busy hears it with its next message. */
    public void notice(String text) {
        for (Reader reader : readers.values()) {
            synchronized (reader) {
                reader.notice = Optional.of(text);
                if (!reader.busy) {
                    send(reader, Optional.empty(), Optional.empty());
                }
            }
        }
    }

    private static void send(Reader reader, Optional<String> message, Optional<String> detail) {
        reader.busy = true;
        reader.busySinceNanos = System.nanoTime();
        List<String> texts = Stream.of(message, detail, reader.notice)
                .flatMap(Optional::stream)
                .toList();
        reader.notice = Optional.empty();
        CompletionStage<Void> sent = CompletableFuture.completedFuture(null);
        for (String text : texts) {
            sent = sent.thenCompose(done -> reader.channel.send(text));
        }
        sent.whenComplete((done, failure) -> {
            synchronized (reader) {
                reader.busy = false;
            }
        });
    }

    private void serve(
            Reader reader,
            Set<UnitId> changed,
            String shared,
            Function<Set<UnitId>, String> fleetMessage,
            Function<UnitId, String> unitMessage) {
        synchronized (reader) {
            boolean upToDate = reader.pending.isEmpty();
            reader.pending.addAll(changed);
            if (reader.busy) {
                if (System.nanoTime() - reader.busySinceNanos > patience.toNanos()) {
                    dropped.incrementAndGet();
                    readers.remove(reader.channel.id());
                    reader.channel.drop();
                }
                return;
            }
            if (reader.pending.isEmpty() && reader.notice.isEmpty()) {
                return;
            }
            Optional<String> detail =
                    reader.focus.filter(reader.pending::contains).map(unitMessage);
            Optional<String> message = reader.pending.isEmpty()
                    ? Optional.empty()
                    : Optional.of(upToDate ? shared : fleetMessage.apply(Set.copyOf(reader.pending)));
            reader.pending.clear();
            send(reader, message, detail);
        }
    }
}
