package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.RejectReason;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Messages in Sparkplug B: one session for each edge node that stands for, or has a device that stands for, one of our units. */
public final class SparkplugDecoder implements MessageDecoder {

    /** One name of an edge node may exist in several groups; nobody has so many that all want to be remembered. */
    private static final int MAX_SESSIONS = 1000;

    private final Map<String, ServedTags> served;
    private final Set<String> servedNodes = new HashSet<>();
    private final Map<EdgeNode, SparkplugSession> sessions = new HashMap<>();
    private final int maxPayloadBytes;

    public SparkplugDecoder(Connection connection, int maxPayloadBytes) {
        this.served = ServedTags.byNameAtSource(connection);
        this.maxPayloadBytes = maxPayloadBytes;
        for (String nameAtSource : served.keySet()) {
            servedNodes.add(nameAtSource.split("/", 2)[0]);
        }
    }

    @Override
    public void connectionWasAway() {
        sessions.values().forEach(SparkplugSession::trackLost);
    }

    @Override
    public Decoded decode(Arrival arrival) {
        if (SparkplugTopic.isHostState(arrival.topic()) || arrival.payload().length == 0) {
            return Decoded.NOTHING;
        }
        Optional<SparkplugTopic> topic = SparkplugTopic.parse(arrival.topic());
        if (topic.isEmpty()) {
            return Decoded.refused(
                    new Refusal(RejectReason.MALFORMED, "topic " + arrival.topic() + " is not of Sparkplug's form"));
        }
        return topic.get().type().isCommand() ? Decoded.NOTHING : decode(arrival, topic.get());
    }

    private Decoded decode(Arrival arrival, SparkplugTopic topic) {
        if (!servedNodes.contains(topic.node().name())) {
            return Decoded.refused(new Refusal(
                    RejectReason.UNKNOWN_UNIT, "edge node '" + topic.node() + "' is not behind this connection"));
        }
        SparkplugPayload.Result result = SparkplugPayload.parse(arrival.payload(), maxPayloadBytes);
        if (result instanceof SparkplugPayload.Refused refused) {
            return Decoded.refused(refused.refusal());
        }
        if (sessions.size() >= MAX_SESSIONS && !sessions.containsKey(topic.node())) {
            return Decoded.refused(new Refusal(
                    RejectReason.UNKNOWN_UNIT,
                    "edge node '" + topic.node() + "' is one more than the limit of " + MAX_SESSIONS));
        }
        SparkplugSession session = sessions.computeIfAbsent(topic.node(), this::newSession);
        return decoded(
                topic,
                session.on(
                        topic.type(),
                        topic.device(),
                        (SparkplugPayload.Message) result,
                        arrival.redelivered(),
                        arrival.receivedAt()));
    }

    private SparkplugSession newSession(EdgeNode node) {
        return new SparkplugSession(
                node,
                device -> Optional.ofNullable(served.get(nameAtSource(node, device)))
                        .map(unit -> unit.entries().keySet()));
    }

    private Decoded decoded(SparkplugTopic topic, SparkplugSession.Outcome outcome) {
        List<UnitReadings> units = new ArrayList<>();
        outcome.readings()
                .forEach((device, readings) -> units.add(new UnitReadings(
                        served.get(nameAtSource(topic.node(), device)).unit(), readings)));
        return new Decoded(
                units, outcome.refusals(), outcome.rebirthWanted() ? Optional.of(topic.node()) : Optional.empty());
    }

    private static String nameAtSource(EdgeNode node, String device) {
        return device.isEmpty() ? node.name() : node.name() + "/" + device;
    }
}
