package io.loopwarden.mqtt.payload;

import com.google.protobuf.InvalidProtocolBufferException;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.eclipse.tahu.protobuf.SparkplugBProto;

/** Reads the Sparkplug B coding of a message. Knows no births, aliases or sequences. */
final class SparkplugPayload {

    /** A payload that was read, or the reason why not. */
    sealed interface Result permits Message, Refused {}

    /**
     * @param seq -1 if there is none
     * @param time null if there is none
     */
    record Message(long seq, Instant time, List<Metric> metrics) implements Result {
        Message {
            metrics = List.copyOf(metrics);
        }
    }

    record Refused(Refusal refusal) implements Result {}

    /**
     * @param name null in data that go by alias
     * @param alias -1 if there is none
     * @param dataType 0 if there is none
     * @param time null if there is none
     * @param quality as the property of that name says, good if there is none
     */
    record Metric(
            String name,
            long alias,
            int dataType,
            Instant time,
            boolean historical,
            Quality quality,
            SparkplugValue value) {}

    /** Far more than any node has; each may cost a hundred times its two bytes. */
    static final int MAX_METRICS = 10_000;

    private static final String QUALITY = "quality";

    private SparkplugPayload() {}

    /** @param maxBytes a longer payload is not parsed */
    static Result parse(byte[] payload, int maxBytes) {
        if (payload.length > maxBytes) {
            return new Refused(new Refusal(
                    RejectReason.PAYLOAD_TOO_LARGE, "payload of " + payload.length + " bytes, limit " + maxBytes));
        }
        try {
            SparkplugBProto.Payload coded = SparkplugBProto.Payload.parseFrom(payload);
            if (coded.getMetricsCount() > MAX_METRICS) {
                return malformed(coded.getMetricsCount() + " metrics, limit " + MAX_METRICS);
            }
            List<Metric> metrics = new ArrayList<>(coded.getMetricsCount());
            for (SparkplugBProto.Payload.Metric metric : coded.getMetricsList()) {
                metrics.add(metric(metric));
            }
            return new Message(
                    coded.hasSeq() ? Math.max(-1, coded.getSeq()) : -1,
                    coded.hasTimestamp() ? Instant.ofEpochMilli(coded.getTimestamp()) : null,
                    metrics);
        } catch (InvalidProtocolBufferException e) {
            return malformed("not a Sparkplug B payload of " + payload.length + " bytes: " + e.getMessage());
        }
    }

    private static Refused malformed(String detail) {
        return new Refused(new Refusal(RejectReason.MALFORMED, detail));
    }

    private static Metric metric(SparkplugBProto.Payload.Metric coded) {
        return new Metric(
                coded.hasName() && !coded.getName().isEmpty() ? coded.getName() : null,
                coded.hasAlias() ? coded.getAlias() & Long.MAX_VALUE : -1,
                coded.hasDatatype() ? coded.getDatatype() : 0,
                coded.hasTimestamp() ? Instant.ofEpochMilli(coded.getTimestamp()) : null,
                coded.getIsHistorical(),
                coded.hasProperties() ? quality(coded.getProperties()) : Quality.GOOD,
                SparkplugValue.of(coded));
    }

    /** 0 bad, 192 good, 500 stale (Sparkplug 3.0, 6.4.14); another code is not ours to judge: uncertain. */
    private static Quality quality(SparkplugBProto.Payload.PropertySet properties) {
        int pairs = Math.min(properties.getKeysCount(), properties.getValuesCount());
        for (int i = 0; i < pairs; i++) {
            if (properties.getKeys(i).equalsIgnoreCase(QUALITY)) {
                SparkplugBProto.Payload.PropertyValue value = properties.getValues(i);
                long code = value.hasLongValue()
                        ? value.getLongValue() & 0xFFFF_FFFFL
                        : Integer.toUnsignedLong(value.getIntValue());
                return new Quality(
                        code == 192 ? Quality.Level.GOOD : code == 0 ? Quality.Level.BAD : Quality.Level.UNCERTAIN,
                        code);
            }
        }
        return Quality.GOOD;
    }
}
