package io.loopwarden.opcua;

import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.collector.RecordingSink;
import io.loopwarden.collector.RejectLog;
import java.net.URI;
import java.time.Clock;
import java.time.Duration;
import java.util.Map;

/** A collector with what it handed on and refused, for tests against a real server. */
final class Bench implements AutoCloseable {

    static final Duration PATIENCE = Duration.ofSeconds(30);

    final RecordingSink sink = new RecordingSink();
    final RejectLog rejects = new RejectLog(Clock.systemUTC());
    final OpcUaCollector collector;

    Bench(URI address, Map<String, String> settings, ServedUnit... units) {
        Connection connection = Plants.connection(address, settings, units);
        collector = new OpcUaCollector(connection, OpcUaSettings.from(connection), sink, rejects, Clock.systemUTC());
    }

    Bench start() {
        collector.start();
        return this;
    }

    Bench awaitConnected() {
        return awaitState(State.CONNECTED);
    }

    Bench awaitState(State state) {
        await().alias("state " + state)
                .atMost(PATIENCE)
                .until(() -> collector.status().state() == state);
        return this;
    }

    /** Waits for a status that says so, and returns its sentence. */
    String awaitDetail(String part) {
        await().alias("status says '" + part + "'")
                .atMost(PATIENCE)
                .until(() -> collector.status().detail().contains(part));
        return collector.status().detail();
    }

    void awaitGood(String name, double value) {
        await().alias(name + " = " + value).atMost(PATIENCE).until(() -> sink.hasGood(PlantServer.node(name), value));
    }

    @Override
    public void close() {
        collector.close();
    }
}
