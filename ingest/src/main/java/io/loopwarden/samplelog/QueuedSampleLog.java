package io.loopwarden.samplelog;

import io.loopwarden.fleet.Scan;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The sample log of one process: a bounded queue and one thread that stores it in batches. Only what is stored is
 * acknowledged. While the store is away the queue keeps what it has and tries again; once full, it refuses.
 */
public final class QueuedSampleLog implements SampleLog {

    private static final Logger LOG = LoggerFactory.getLogger(QueuedSampleLog.class);

    /**
     * A batch is also written once nothing more came for so long: then whoever sends may be waiting for our word, as an MQTT broker
     * does that allows few messages under way. Longer than the gaps between scans of a large fleet, so that its batches stay large.
     */
    private static final long QUIET_NS = 5_000_000;

    private record Entry(Scan scan, CompletableFuture<Void> stored, long appendedNs) {}

    private final ScanStore store;
    private final LogLimits limits;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition room = lock.newCondition();
    private final Condition work = lock.newCondition();
    private final ArrayDeque<Entry> queue = new ArrayDeque<>();
    private final CopyOnWriteArrayList<ListenerQueue> listeners = new CopyOnWriteArrayList<>();
    private final Thread writer;

    /** Being written, in order; those that are done are taken out. */
    private final ArrayDeque<Entry> writing = new ArrayDeque<>();

    private int queuedSamples;
    private int writingSamples;
    private long newestNs;
    private boolean closed;
    private long appendedScans;
    private long refusedScans;
    private long droppedByGoneListeners;
    private StoredCounts counts = StoredCounts.NONE;
    private long failures;
    private String lastError;
    private Duration lastWrite = Duration.ZERO;
    private Duration longestWrite = Duration.ZERO;

    public QueuedSampleLog(ScanStore store, LogLimits limits) {
        this.store = Objects.requireNonNull(store, "store");
        this.limits = Objects.requireNonNull(limits, "limits");
        this.writer = new Thread(this::run, "sample-log-writer");
        writer.setDaemon(true);
        writer.start();
    }

    @Override
    public CompletableFuture<Void> append(Scan scan) {
        Entry entry = new Entry(scan, new CompletableFuture<>(), System.nanoTime());
        int samples = scan.samples().size();
        lock.lock();
        try {
            if (!waitForRoom(samples)) {
                refusedScans++;
                return CompletableFuture.failedFuture(full(scan));
            }
            queue.add(entry);
            newestNs = entry.appendedNs();
            queuedSamples += samples;
            appendedScans++;
            for (ListenerQueue listener : listeners) {
                listener.offer(scan);
            }
            if (queue.size() == 1 || queuedSamples >= limits.flushSamples()) {
                work.signal();
            }
        } finally {
            lock.unlock();
        }
        return entry.stored();
    }

    /** A scan larger than the whole queue is taken when the queue is empty. */
    private boolean waitForRoom(int samples) {
        long leftNs = limits.appendWait().toNanos();
        try {
            while (!closed && inside() > 0 && inside() + samples > limits.queuedSamples()) {
                if (leftNs <= 0) {
                    return false;
                }
                leftNs = room.awaitNanos(leftNs);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
        return !closed;
    }

    private int inside() {
        return queuedSamples + writingSamples;
    }

    private LogFullException full(Scan scan) {
        if (closed) {
            return new LogFullException("sample log is closed, scan of " + scan.unit() + " refused");
        }
        return new LogFullException("sample log holds " + inside() + " of " + limits.queuedSamples()
                + " samples, no room for a scan of " + scan.unit() + " within " + limits.appendWait()
                + (lastError == null ? "" : "; store: " + lastError));
    }

    /** Hands every scan appended from now on to the listener, until the returned handle is closed. */
    public Subscription subscribe(ScanListener listener) {
        ListenerQueue added = new ListenerQueue(listener, limits.listenerScans());
        listeners.add(added);
        return new Subscription() {
            @Override
            public long dropped() {
                return added.dropped();
            }

            @Override
            public void close() {
                unsubscribe(added);
            }
        };
    }

    private void unsubscribe(ListenerQueue listener) {
        if (listeners.remove(listener)) {
            listener.close();
            lock.lock();
            droppedByGoneListeners += listener.dropped();
            lock.unlock();
        }
    }

    public LogStatus status() {
        lock.lock();
        try {
            long dropped = droppedByGoneListeners
                    + listeners.stream().mapToLong(ListenerQueue::dropped).sum();
            return new LogStatus(
                    queue.size() + writing.size(),
                    inside(),
                    appendedScans,
                    refusedScans,
                    counts,
                    failures,
                    Optional.ofNullable(lastError),
                    lastWrite,
                    longestWrite,
                    dropped);
        } finally {
            lock.unlock();
        }
    }

    private void run() {
        try {
            for (List<Entry> batch = take(); !batch.isEmpty(); batch = take()) {
                write(batch);
            }
        } catch (InterruptedException e) {
            LOG.warn("sample log stopped before everything was stored; last error of the store: {}", lastError);
        } finally {
            refuseTheRest();
        }
    }

    /** The next batch; empty once closed and drained. */
    private List<Entry> take() throws InterruptedException {
        lock.lockInterruptibly();
        try {
            while (queue.isEmpty() && !closed) {
                work.await();
            }
            long flushNs = limits.flushEvery().toNanos();
            while (!closed && queuedSamples < limits.flushSamples() && !queue.isEmpty()) {
                long nowNs = System.nanoTime();
                long untilFlushNs = flushNs - (nowNs - queue.peek().appendedNs());
                long leftNs = Math.min(untilFlushNs, QUIET_NS - (nowNs - newestNs));
                if (leftNs <= 0) {
                    break;
                }
                work.awaitNanos(leftNs);
            }
            List<Entry> batch = new ArrayList<>(Math.min(queue.size(), limits.flushSamples()));
            while (!queue.isEmpty() && (batch.isEmpty() || writingSamples < limits.flushSamples())) {
                Entry next = queue.poll();
                batch.add(next);
                writingSamples += next.scan().samples().size();
                queuedSamples -= next.scan().samples().size();
            }
            writing.addAll(batch);
            return batch;
        } finally {
            lock.unlock();
        }
    }

    private void write(List<Entry> batch) throws InterruptedException {
        List<Scan> scans = batch.stream().map(Entry::scan).toList();
        try {
            StoredCounts stored = storeUntilDone(scans);
            done(batch, stored);
        } catch (RuntimeException bug) {
            LOG.error("a batch of {} scans could not be stored as a whole, trying one by one", scans.size(), bug);
            writeOneByOne(batch);
        }
    }

    /** A fault of ours with one scan must not stop the others. */
    private void writeOneByOne(List<Entry> batch) throws InterruptedException {
        for (Entry entry : batch) {
            try {
                StoredCounts stored = storeUntilDone(List.of(entry.scan()));
                done(List.of(entry), stored);
            } catch (RuntimeException bug) {
                LOG.error("a scan of {} cannot be stored", entry.scan().unit(), bug);
                done(List.of(entry), StoredCounts.NONE, bug);
            }
        }
    }

    private StoredCounts storeUntilDone(List<Scan> scans) throws InterruptedException {
        Duration wait = limits.retryFirst();
        while (true) {
            long startNs = System.nanoTime();
            try {
                StoredCounts stored = store.store(scans);
                succeeded(Duration.ofNanos(System.nanoTime() - startNs));
                return stored;
            } catch (StoreUnavailableException e) {
                failed(e);
                TimeUnit.NANOSECONDS.sleep(wait.toNanos());
                Duration doubled = wait.multipliedBy(2);
                wait = doubled.compareTo(limits.retryMost()) < 0 ? doubled : limits.retryMost();
            }
        }
    }

    private void succeeded(Duration took) {
        lock.lock();
        try {
            if (lastError != null) {
                LOG.info("store takes samples again");
            }
            lastError = null;
            lastWrite = took;
            longestWrite = took.compareTo(longestWrite) > 0 ? took : longestWrite;
        } finally {
            lock.unlock();
        }
    }

    private void failed(StoreUnavailableException e) {
        lock.lock();
        try {
            if (lastError == null) {
                LOG.warn("store does not take samples, they wait: {}", e.getMessage());
            }
            lastError = e.getMessage();
            failures++;
        } finally {
            lock.unlock();
        }
    }

    private void done(List<Entry> entries, StoredCounts stored) {
        done(entries, stored, null);
    }

    private void done(List<Entry> entries, StoredCounts stored, RuntimeException failure) {
        lock.lock();
        try {
            counts = counts.plus(stored);
            for (Entry entry : entries) {
                writing.remove();
                writingSamples -= entry.scan().samples().size();
            }
            room.signalAll();
        } finally {
            lock.unlock();
        }
        for (Entry entry : entries) {
            if (failure == null) {
                entry.stored().complete(null);
            } else {
                entry.stored().completeExceptionally(failure);
            }
        }
    }

    private void refuseTheRest() {
        lock.lock();
        try {
            closed = true;
            writing.forEach(entry -> entry.stored().completeExceptionally(full(entry.scan())));
            queue.forEach(entry -> entry.stored().completeExceptionally(full(entry.scan())));
            refusedScans += writing.size() + queue.size();
            writing.clear();
            queue.clear();
            queuedSamples = 0;
            writingSamples = 0;
            room.signalAll();
        } finally {
            lock.unlock();
        }
    }

    /** Stores what is queued, for a bounded time; refuses the rest. */
    @Override
    public void close() {
        lock.lock();
        closed = true;
        work.signal();
        room.signalAll();
        lock.unlock();
        try {
            writer.join(limits.closeWait().toMillis());
            writer.interrupt();
            writer.join(limits.closeWait().toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        listeners.forEach(ListenerQueue::close);
    }
}
