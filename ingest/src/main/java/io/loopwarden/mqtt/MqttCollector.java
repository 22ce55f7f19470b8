package io.loopwarden.mqtt;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.mqtt.payload.Arrival;
import io.loopwarden.mqtt.payload.EdgeNode;
import io.loopwarden.mqtt.payload.JsonDecoder;
import io.loopwarden.mqtt.payload.MessageDecoder;
import io.loopwarden.mqtt.payload.SparkplugDecoder;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Reads the messages of one MQTT broker. All changes of the connection happen on one thread of its own. */
public final class MqttCollector implements Collector {

    private static final Logger LOG = LoggerFactory.getLogger(MqttCollector.class);
    private static final Duration DRAIN = Duration.ofSeconds(5);

    private final Connection connection;
    private final MqttSettings settings;
    private final Clock clock;
    private final Delivery.Context context;
    private final ScheduledExecutorService executor;
    private final Optional<RebirthRequester> rebirths;
    private final AtomicBoolean closing = new AtomicBoolean();
    private final Random random = new Random();

    private volatile ConnectionStatus status;
    private volatile Instant lastDataAt;
    private volatile Attempt current;
    private int failures;

    public MqttCollector(
            Connection connection, MqttSettings settings, ReadingSink sink, RejectLog rejects, Clock clock) {
        this.connection = Objects.requireNonNull(connection, "connection");
        this.settings = Objects.requireNonNull(settings, "settings");
        this.clock = Objects.requireNonNull(clock, "clock");
        MessageDecoder decoder = settings.payload() == MqttSettings.Payload.SPARKPLUG
                ? new SparkplugDecoder(connection, settings.maxPayloadBytes())
                : new JsonDecoder(connection, settings.maxPayloadBytes());
        this.rebirths = settings.rebirthInterval().map(interval -> new RebirthRequester(settings, interval, clock));
        Consumer<EdgeNode> onRebirthWanted = node -> rebirths.ifPresent(requester -> requester.request(node));
        this.context = new Delivery.Context(connection.name(), decoder, sink, rejects, onRebirthWanted);
        this.executor = Executors.newSingleThreadScheduledExecutor(task -> {
            Thread thread = new Thread(task, "mqtt-" + connection.name());
            thread.setDaemon(true);
            return thread;
        });
        this.status = statusOf(State.CONNECTING, "");
    }

    @Override
    public void start() {
        executor.execute(this::connect);
        long watchMs = Math.max(20, settings.ackTimeout().toMillis() / 4);
        executor.scheduleWithFixedDelay(this::watch, watchMs, watchMs, TimeUnit.MILLISECONDS);
    }

    @Override
    public ConnectionStatus status() {
        ConnectionStatus s = status;
        return new ConnectionStatus(
                s.connection(), s.protocol(), s.state(), s.since(), Optional.ofNullable(lastDataAt), s.detail());
    }

    /** One connection and what is under way on it. */
    private final class Attempt implements MqttLink.Listener {

        private final Delivery delivery =
                new Delivery(context, settings.maxInFlight(), why -> later(() -> startAnew(this, why)));
        private final MqttLink link;
        private boolean startingAnew;
        private long openSinceNanos;

        Attempt() throws LinkException {
            link = settings.version() == MqttSettings.Version.V5
                    ? new Mqtt5Link(settings, this)
                    : new Mqtt311Link(settings, this);
        }

        @Override
        public void arrived(String topic, byte[] payload, boolean retained, boolean redelivered, Runnable acknowledge) {
            if (closing.get()) {
                return; // not acknowledged: it comes again
            }
            Instant now = clock.instant();
            lastDataAt = now;
            delivery.take(new Arrival(topic, payload, retained, redelivered, now), acknowledge);
        }

        @Override
        public void lost(String why) {
            later(() -> lose(this, why));
        }

        void end() {
            delivery.close();
            link.close();
        }
    }

    private void connect() {
        if (closing.get()) {
            return;
        }
        Attempt attempt = null;
        try {
            attempt = new Attempt();
            current = attempt;
            synchronized (context.decoder()) {
                context.decoder().connectionWasAway();
            }
            attempt.link.open();
            attempt.openSinceNanos = System.nanoTime();
            change(State.CONNECTED, "");
        } catch (LinkException | RuntimeException e) {
            failed(attempt, e.getMessage());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            failed(attempt, "interrupted");
        }
    }

    private void failed(Attempt attempt, String why) {
        if (attempt != null) {
            attempt.end();
        }
        current = null;
        failures++;
        change(status.state() == State.CONNECTING ? State.CONNECTING : State.LOST, why);
        retry(settings.backoff().delay(failures, random));
    }

    private void lose(Attempt attempt, String why) {
        if (attempt != current) {
            return;
        }
        attempt.end();
        current = null;
        Duration lasted = Duration.ofNanos(System.nanoTime() - attempt.openSinceNanos);
        // Two collectors with one client id throw each other out at once: only a connection that lasts ends the
        // back-off.
        failures = lasted.compareTo(settings.backoff().longest()) > 0 ? 1 : failures + 1;
        change(State.LOST, why);
        retry(settings.backoff().delay(failures, random));
    }

    /** Only a new connection makes the broker send again what was not acknowledged. */
    private void startAnew(Attempt attempt, String why) {
        if (attempt != current || attempt.startingAnew) {
            return;
        }
        attempt.startingAnew = true;
        change(State.CONNECTED, why);
        executor.schedule(() -> lose(attempt, why), settings.redeliveryDelay().toMillis(), TimeUnit.MILLISECONDS);
    }

    private void watch() {
        Attempt attempt = current;
        if (attempt != null && attempt.delivery.oldest().compareTo(settings.ackTimeout()) > 0) {
            startAnew(attempt, "a message has not reached the disk for " + settings.ackTimeout());
        }
    }

    private void retry(Duration delay) {
        if (!closing.get()) {
            executor.schedule(this::connect, delay.toMillis(), TimeUnit.MILLISECONDS);
        }
    }

    private void later(Runnable task) {
        try {
            executor.execute(task);
        } catch (RejectedExecutionException e) {
            // closed in the meantime
        }
    }

    private void change(State state, String detail) {
        ConnectionStatus before = status;
        if (before.state() == State.CLOSED) {
            return;
        }
        if (before.state() == state) {
            status = new ConnectionStatus(
                    before.connection(), before.protocol(), state, before.since(), Optional.empty(), detail);
        } else {
            status = statusOf(state, detail);
        }
        if (before.state() != state || (before.detail().isEmpty() && !detail.isEmpty())) {
            LOG.info("connection {} is {} {}", connection.name(), state, detail);
        }
    }

    private ConnectionStatus statusOf(State state, String detail) {
        return new ConnectionStatus(
                connection.name(), connection.protocol(), state, clock.instant(), Optional.empty(), detail);
    }

    @Override
    public void close() {
        if (!closing.compareAndSet(false, true)) {
            return;
        }
        boolean interrupted = false;
        try {
            Attempt attempt = current;
            if (attempt != null) {
                attempt.delivery.drain(DRAIN);
            }
            executor.shutdownNow();
            executor.awaitTermination(DRAIN.toMillis(), TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            interrupted = true;
        }
        Attempt attempt = current;
        if (attempt != null) {
            attempt.end();
        }
        rebirths.ifPresent(RebirthRequester::close);
        change(State.CLOSED, "");
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
