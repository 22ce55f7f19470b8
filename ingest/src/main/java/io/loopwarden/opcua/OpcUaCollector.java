package io.loopwarden.opcua;

import io.loopwarden.collector.Backoff;
import io.loopwarden.collector.Collector;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads one OPC UA server by subscription.
 *
 * <p>Everything that changes the connection runs in one thread of its own, in order; values come in the client
 * library's threads and go straight to the sink. A lost session is left to the client for the length of the session
 * time-out, as the server keeps its queues so long; then it is given up and all begins anew, with back-off.
 */
public final class OpcUaCollector implements Collector {

    private static final Logger LOG = LoggerFactory.getLogger(OpcUaCollector.class);
    private static final Duration HAND_ON_PATIENCE = Duration.ofSeconds(5);
    private static final Duration CLOSE_PATIENCE = Duration.ofSeconds(10);

    /** A controller that has just started often does not know its nodes yet: the first retries are quick. */
    private static final Duration FIRST_NODE_RETRY = Duration.ofSeconds(2);

    private record Condition(State state, Instant since, String detail) {}

    private final Connection connection;
    private final OpcUaSettings settings;
    private final RejectLog rejects;
    private final Clock clock;
    private final List<Tag> tags;
    private final Delivery delivery;
    private final ScheduledThreadPoolExecutor worker;
    private final Backoff nodeRetry;
    private final SplittableRandom random = new SplittableRandom();
    private volatile Condition condition;
    private volatile boolean started;

    // Touched by the worker only, and by close() once the worker has ended.
    private OpcUaLink link;
    private boolean sessionActive;
    private boolean subscribed;
    private Map<Tag, String> missing = Map.of();
    private int missingInARow;
    private int failures;
    private Future<?> giveUp;
    private Future<?> retry;

    public OpcUaCollector(
            Connection connection, OpcUaSettings settings, ReadingSink sink, RejectLog rejects, Clock clock) {
        this.connection = Objects.requireNonNull(connection, "connection");
        this.settings = Objects.requireNonNull(settings, "settings");
        this.rejects = Objects.requireNonNull(rejects, "rejects");
        this.clock = Objects.requireNonNull(clock, "clock");
        this.tags = Tag.of(connection);
        this.delivery = new Delivery(connection.name(), sink, rejects, clock, settings.maxInFlight(), HAND_ON_PATIENCE);
        Duration slow = settings.unknownNodeRetry();
        this.nodeRetry = new Backoff(slow.compareTo(FIRST_NODE_RETRY) < 0 ? slow : FIRST_NODE_RETRY, slow);
        this.condition = new Condition(State.CONNECTING, clock.instant(), "");
        this.worker = new ScheduledThreadPoolExecutor(1, task -> {
            Thread thread = new Thread(task, "opc-ua " + connection.name());
            thread.setDaemon(true);
            return thread;
        });
        worker.setRemoveOnCancelPolicy(true);
    }

    @Override
    public synchronized void start() {
        if (!started) {
            started = true;
            run(this::connect);
        }
    }

    @Override
    public ConnectionStatus status() {
        Condition now = condition;
        return new ConnectionStatus(
                connection.name(),
                connection.protocol(),
                now.state(),
                now.since(),
                delivery.lastDataAt(),
                now.detail());
    }

    /** Ends the connection and marks that nothing is known from here on. */
    @Override
    public synchronized void close() {
        if (condition.state() == State.CLOSED) {
            return;
        }
        worker.shutdownNow();
        boolean ended = false;
        try {
            ended = worker.awaitTermination(CLOSE_PATIENCE.toMillis(), TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (ended && link != null) {
            link.close();
        }
        delivery.markGap(tags);
        delivery.close();
        become(State.CLOSED, "");
    }

    private void connect() {
        OpcUaLink fresh = null;
        try {
            fresh = OpcUaLink.open(connection, settings, tags, delivery, new Events());
            missingInARow = 0;
            note(fresh.subscribe());
            link = fresh;
            sessionActive = true;
            subscribed = true;
            failures = 0;
            connected();
        } catch (Exception e) { // whatever it is, the status says so and the next attempt follows
            if (fresh != null) {
                fresh.close();
            }
            reconnectAfter(Reasons.of(e), e);
        }
    }

    private void resubscribeIfNeeded() {
        OpcUaLink of = link;
        try {
            if (!subscribed) {
                missingInARow = 0;
                note(of.subscribe());
                subscribed = true;
            }
            connected();
        } catch (UaException e) {
            abandon(of, Reasons.of(e));
        }
    }

    private void retryMissing(OpcUaLink of) {
        if (of == link && sessionActive && subscribed) {
            try {
                note(of.retryMissing());
                connected();
            } catch (UaException e) {
                abandon(of, Reasons.of(e));
            }
        }
    }

    private void abandon(OpcUaLink of, String why) {
        if (of == link) {
            delivery.markGap(tags);
            link = null;
            cancel(giveUp);
            of.close();
            reconnectAfter(why, null);
        }
    }

    private void reconnectAfter(String why, Exception cause) {
        failures++;
        Duration wait = settings.reconnect().delay(failures, random);
        State next = condition.state() == State.CONNECTING ? State.CONNECTING : State.LOST;
        LOG.debug("{}: attempt {} failed, next in {}", connection.name(), failures, wait, cause);
        become(next, connection.endpoint() + ": " + why);
        later(wait, this::connect);
    }

    private void note(Map<Tag, String> refused) {
        missing = refused;
        missingInARow++;
        refused.forEach((tag, why) -> rejects.reject(
                connection.name(),
                RejectReason.UNKNOWN_TAG,
                tag.unit() + ": " + tag.source() + " (" + tag.point() + "): " + why,
                tag.source()));
    }

    private void connected() {
        delivery.heard();
        String detail = missing.entrySet().stream()
                .findFirst()
                .map(first -> missing.size() + " of " + tags.size() + " nodes cannot be read, for example "
                        + first.getKey().source() + ": " + first.getValue() + "; correct the point map")
                .orElse("");
        become(State.CONNECTED, detail);
        cancel(retry);
        if (!missing.isEmpty()) {
            OpcUaLink of = link;
            retry = later(nodeRetry.delay(missingInARow, random), () -> retryMissing(of));
        }
    }

    /** Logs a change of state, and the first reason of a state; not each attempt. */
    private void become(State state, String detail) {
        Condition before = condition;
        if (before.state() == State.CLOSED) {
            return;
        }
        boolean changed = before.state() != state;
        condition = new Condition(state, changed ? clock.instant() : before.since(), detail);
        if (changed || (before.detail().isEmpty() && !detail.isEmpty())) {
            if (detail.isEmpty()) {
                LOG.info("{} is {}", connection.name(), state);
            } else {
                LOG.warn("{} is {}: {}", connection.name(), state, detail);
            }
        }
    }

    private void run(Runnable task) {
        later(Duration.ZERO, task);
    }

    private Future<?> later(Duration delay, Runnable task) {
        try {
            return worker.schedule(() -> guarded(task), delay.toNanos(), TimeUnit.NANOSECONDS);
        } catch (RejectedExecutionException e) { // closed meanwhile
            return null;
        }
    }

    private void guarded(Runnable task) {
        try {
            task.run();
        } catch (RuntimeException e) {
            LOG.error("{}: a step failed, beginning anew", connection.name(), e);
            if (link != null) {
                abandon(link, Reasons.of(e));
            }
        }
    }

    private static void cancel(Future<?> future) {
        if (future != null) {
            future.cancel(false);
        }
    }

    /** Brings the client's news into the worker. */
    private final class Events implements OpcUaLink.Listener {

        @Override
        public void sessionActive(OpcUaLink of) {
            run(() -> {
                if (of == link) {
                    sessionActive = true;
                    cancel(giveUp);
                    resubscribeIfNeeded();
                }
            });
        }

        @Override
        public void sessionInactive(OpcUaLink of) {
            run(() -> {
                if (of == link) {
                    sessionActive = false;
                    become(State.LOST, "the connection to " + connection.endpoint() + " broke, trying to get it back");
                    delivery.markGap(tags);
                    cancel(giveUp);
                    giveUp = later(settings.sessionTimeout(), () -> abandon(of, "it did not come back in time"));
                }
            });
        }

        @Override
        public void subscriptionGone(OpcUaLink of, String why) {
            run(() -> {
                if (of == link) {
                    LOG.info("{}: {}", connection.name(), why);
                    subscribed = false;
                    delivery.markGap(tags);
                    if (sessionActive) {
                        resubscribeIfNeeded();
                    }
                }
            });
        }
    }
}
