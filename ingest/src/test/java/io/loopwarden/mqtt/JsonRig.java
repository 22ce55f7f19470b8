package io.loopwarden.mqtt;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.CollectorContract;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;

/** A controller that publishes the JSON form through a broker, which serves one test after another. */
final class JsonRig implements CollectorContract.Rig {

    private static final String TOPIC = "plant/east/CDU01/telemetry";

    private static final AtomicInteger RIGS = new AtomicInteger();

    private final TestBroker broker;
    private final String version;
    /** The broker keeps what a client has not acknowledged: each test is a client of its own. */
    private final String clientId = "loopwarden-test-" + RIGS.incrementAndGet();

    JsonRig(TestBroker broker, String version) {
        this.broker = broker;
        this.version = version;
    }

    @Override
    public void start() throws Exception {
        broker.start();
    }

    @Override
    public void stop() throws Exception {
        broker.stop();
    }

    @Override
    public Collector collector(ReadingSink sink, RejectLog rejects, Clock clock) {
        Connection connection = TestUnits.connection(
                "mqtt-json",
                broker.endpoint(),
                List.of("CDU01"),
                "client-id",
                clientId,
                "version",
                version,
                "topics",
                "plant/+/+/telemetry",
                "reconnect-first",
                "PT0.1S",
                "reconnect-longest",
                "PT0.5S",
                "redelivery-delay",
                "PT0.2S");
        return new MqttCollector(connection, MqttSettings.from(connection), sink, rejects, clock);
    }

    @Override
    public String unit() {
        return "E-01";
    }

    @Override
    public String source() {
        return "T_SUP";
    }

    @Override
    public Optional<Instant> set(double value) throws Exception {
        Instant now = Instant.now().truncatedTo(ChronoUnit.MICROS);
        TestPublisher.publish(broker, TOPIC, "{\"time\":\"" + now + "\",\"values\":{\"T_SUP\":" + value + "}}");
        return Optional.of(now);
    }

    @Override
    public void setBad() throws Exception {
        TestPublisher.publish(
                broker, TOPIC, "{\"values\":{\"T_SUP\":{\"value\":null,\"quality\":\"bad\",\"code\":17}}}");
    }

    @Override
    public void meetUnknownTag() throws Exception {
        TestPublisher.publish(broker, TOPIC, "{\"values\":{\"T_UNHEARD_OF\":1}}");
    }

    @Override
    public boolean isOutside(Thread thread) {
        return TestBroker.owns(thread) || thread.getName().contains(TestPublisher.CLIENT_ID);
    }

    @Override
    public void close() {}
}
