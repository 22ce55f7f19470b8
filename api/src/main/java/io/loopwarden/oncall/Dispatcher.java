package io.loopwarden.oncall;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.store.alarm.Outbox;
import io.loopwarden.store.alarm.OutboxMessage;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.jboss.logging.Logger;

/**
 * Sends what the outbox holds, each channel by itself, until it is taken or given up. A message is marked as delivered after the other
 * side took it: a kill in between sends it once more, with the same id.
 */
public final class Dispatcher implements AutoCloseable {

    private static final Logger LOG = Logger.getLogger(Dispatcher.class);

    /** How patient delivery is. */
    public record Settings(
            Duration look, Duration firstRetry, Duration longestRetry, Duration giveUpAfter, int atOnce) {
        public static final Settings DEFAULT = new Settings(
                Duration.ofSeconds(1), Duration.ofSeconds(1), Duration.ofMinutes(5), Duration.ofHours(12), 8);
    }

    /** How a channel is doing. */
    public record ChannelState(
            String name, String kind, long delivered, long failed, int failedInARow, String lastError) {}

    private static final class Line {
        final Channel channel;
        final AtomicLong delivered = new AtomicLong();
        final AtomicLong failed = new AtomicLong();
        volatile int failedInARow;
        volatile String lastError = "";

        Line(Channel channel) {
            this.channel = channel;
        }
    }

    private static final int TROUBLE = 3;

    private final Map<String, Line> lines = new TreeMap<>();
    private final Outbox outbox;
    private final ObjectMapper json;
    private final Clock clock;
    private final Settings settings;
    private final ExecutorService senders;
    private final List<Thread> threads = new ArrayList<>();
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition more = lock.newCondition();
    private long asked;
    private volatile boolean closed;

    public Dispatcher(Collection<Channel> channels, Outbox outbox, ObjectMapper json, Clock clock, Settings settings) {
        channels.forEach(channel -> lines.put(channel.name(), new Line(channel)));
        this.outbox = outbox;
        this.json = json;
        this.clock = clock;
        this.settings = settings;
        this.senders = Executors.newCachedThreadPool(task -> daemon(task, "message"));
    }

    private static Thread daemon(Runnable task, String name) {
        Thread thread = new Thread(task, name);
        thread.setDaemon(true);
        return thread;
    }

    public void start() {
        for (Line line : lines.values()) {
            Thread thread = daemon(() -> run(line), "messages " + line.channel.name());
            threads.add(thread);
            thread.start();
        }
    }

    /** There are new messages. */
    public void wake() {
        lock.lock();
        try {
            asked++;
            more.signalAll();
        } finally {
            lock.unlock();
        }
    }

    public List<ChannelState> states() {
        return lines.values().stream()
                .map(line -> new ChannelState(
                        line.channel.name(),
                        line.channel.kind(),
                        line.delivered.get(),
                        line.failed.get(),
                        line.failedInARow,
                        line.lastError))
                .toList();
    }

    /** What keeps messages from people, one sentence; empty when all is well. */
    public Optional<String> trouble() {
        return lines.values().stream()
                .filter(line -> line.failedInARow >= TROUBLE)
                .map(line -> line.lastError)
                .findFirst();
    }

    private void run(Line line) {
        while (!closed) {
            long seen = asked();
            boolean some = false;
            try {
                some = deliverDue(line);
            } catch (SQLException | RuntimeException e) {
                LOG.warnf("messages of channel %s cannot be read or marked: %s", line.channel.name(), e.getMessage());
            }
            if (!some) {
                pause(seen);
            }
        }
    }

    private long asked() {
        lock.lock();
        try {
            return asked;
        } finally {
            lock.unlock();
        }
    }

    private void pause(long seen) {
        lock.lock();
        try {
            if (asked == seen && !closed) {
                more.awaitNanos(settings.look().toNanos());
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            lock.unlock();
        }
    }

    /** True if something was delivered, so that there may be more at once. */
    private boolean deliverDue(Line line) throws SQLException {
        List<OutboxMessage> due = outbox.due(line.channel.name(), clock.instant(), settings.atOnce());
        List<Future<Boolean>> sent = new ArrayList<>();
        for (OutboxMessage message : due) {
            sent.add(senders.submit(() -> deliver(line, message)));
        }
        boolean some = false;
        for (Future<Boolean> one : sent) {
            try {
                some |= one.get();
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return false;
            } catch (java.util.concurrent.ExecutionException e) {
                LOG.errorf(e.getCause(), "a message of channel %s failed", line.channel.name());
            }
        }
        return some;
    }

    private boolean deliver(Line line, OutboxMessage envelope) throws SQLException {
        try {
            line.channel.send(envelope, json.readValue(envelope.body(), Message.class));
            outbox.delivered(envelope.id(), line.channel.name(), clock.instant());
            line.delivered.incrementAndGet();
            line.failedInARow = 0;
            line.lastError = "";
            return true;
        } catch (DeliveryException e) {
            failed(line, envelope, e.getMessage(), e.permanent());
        } catch (JsonProcessingException e) {
            failed(line, envelope, "the kept message cannot be read: " + e.getOriginalMessage(), true);
        }
        return false;
    }

    private void failed(Line line, OutboxMessage envelope, String error, boolean permanent) throws SQLException {
        line.failed.incrementAndGet();
        line.failedInARow++;
        line.lastError = error;
        Instant now = clock.instant();
        if (permanent || envelope.decidedAt().plus(settings.giveUpAfter()).isBefore(now)) {
            outbox.giveUp(envelope.id(), line.channel.name(), error);
            LOG.errorf("message %s to %s is given up: %s", envelope.id(), envelope.person(), error);
            return;
        }
        if (envelope.attempts() == 0) {
            LOG.warnf("message %s to %s is tried again: %s", envelope.id(), envelope.person(), error);
        }
        outbox.failed(envelope.id(), line.channel.name(), now.plus(wait(envelope.attempts())), error);
    }

    /** Doubling, the upper half by chance. */
    private Duration wait(int attempts) {
        long most = settings.firstRetry().toMillis() << Math.min(attempts, 20);
        long longest = Math.min(most, settings.longestRetry().toMillis());
        return Duration.ofMillis(longest / 2 + ThreadLocalRandom.current().nextLong(longest / 2 + 1));
    }

    @Override
    public void close() {
        closed = true;
        wake();
        for (Thread thread : threads) {
            try {
                thread.join(TimeUnit.SECONDS.toMillis(11));
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
        senders.shutdownNow();
    }
}
