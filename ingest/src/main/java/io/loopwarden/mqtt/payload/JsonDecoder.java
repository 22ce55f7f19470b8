package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.pointmap.PointMap;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Messages in the JSON form: finds the unit, and holds tags and units of measure against its point map. */
public final class JsonDecoder implements MessageDecoder {

    private static final String LAST_LEVEL = "/telemetry";

    private final Map<String, ServedTags> served;
    private final int maxPayloadBytes;

    public JsonDecoder(Connection connection, int maxPayloadBytes) {
        this.served = ServedTags.byNameAtSource(connection);
        this.maxPayloadBytes = maxPayloadBytes;
    }

    @Override
    public Decoded decode(Arrival arrival) {
        if (arrival.payload().length == 0) {
            return Decoded.NOTHING; // how a retained message is taken back
        }
        JsonPayload.Result result = JsonPayload.parse(arrival.payload(), maxPayloadBytes);
        return result instanceof JsonPayload.Message message
                ? decode(arrival, message)
                : Decoded.refused(((JsonPayload.Refused) result).refusal());
    }

    private Decoded decode(Arrival arrival, JsonPayload.Message message) {
        String name = message.unit() == null ? nameInTopic(arrival.topic()) : message.unit();
        ServedTags unit = served.get(name);
        if (unit == null) {
            return Decoded.refused(new Refusal(
                    RejectReason.UNKNOWN_UNIT,
                    "unit '" + name + "' on topic " + arrival.topic() + " is not behind this connection"));
        }
        List<Refusal> refusals = new ArrayList<>(message.refusals());
        List<RawReading> readings = new ArrayList<>(message.values().size());
        for (JsonPayload.Value value : message.values()) {
            Instant measuredAt = measuredAt(value, message, arrival);
            Refusal fault = faultOf(value, measuredAt, unit.entries().get(value.tag()));
            if (fault == null) {
                readings.add(new RawReading(value.tag(), measuredAt, value.value(), value.quality()));
            } else {
                refusals.add(fault);
            }
        }
        return new Decoded(
                readings.isEmpty() ? List.of() : List.of(new UnitReadings(unit.unit(), readings)),
                refusals,
                Optional.empty());
    }

    private static Refusal faultOf(JsonPayload.Value value, Instant measuredAt, PointMap.Entry entry) {
        if (entry == null) {
            return new Refusal(RejectReason.UNKNOWN_TAG, "'" + value.tag() + "' is in no point map of its unit");
        }
        String ucum = entry.conversion().ucum();
        if (value.ucum() != null && !value.ucum().equals(ucum)) {
            return new Refusal(
                    RejectReason.UNKNOWN_UNIT_OF_MEASURE,
                    "'" + value.tag() + "' comes in '" + value.ucum() + "', its point map says '" + ucum + "'");
        }
        if (measuredAt == null) {
            return new Refusal(
                    RejectReason.TIME_FAR_OFF, "'" + value.tag() + "' has no time and the message was retained");
        }
        return SourceTime.isUsable(measuredAt)
                ? null
                : new Refusal(RejectReason.TIME_FAR_OFF, "'" + value.tag() + "' has time " + measuredAt);
    }

    /** Null when nobody knows: a retained message is as old as it likes. */
    private static Instant measuredAt(JsonPayload.Value value, JsonPayload.Message message, Arrival arrival) {
        if (value.time() != null) {
            return value.time();
        }
        if (message.time() != null) {
            return message.time();
        }
        return arrival.retained() ? null : arrival.receivedAt();
    }

    private static String nameInTopic(String topic) {
        if (!topic.endsWith(LAST_LEVEL)) {
            return "";
        }
        String before = topic.substring(0, topic.length() - LAST_LEVEL.length());
        return before.substring(before.lastIndexOf('/') + 1);
    }
}
