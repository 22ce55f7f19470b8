package io.loopwarden.virtual.serve;

import io.loopwarden.virtual.scenario.Tag;
import java.io.IOException;
import java.time.Instant;
import java.util.Date;
import java.util.List;
import org.eclipse.tahu.SparkplugInvalidTypeException;
import org.eclipse.tahu.message.SparkplugBPayloadDecoder;
import org.eclipse.tahu.message.SparkplugBPayloadEncoder;
import org.eclipse.tahu.message.model.Metric;
import org.eclipse.tahu.message.model.MetricDataType;
import org.eclipse.tahu.message.model.PropertyDataType;
import org.eclipse.tahu.message.model.PropertySet;
import org.eclipse.tahu.message.model.PropertyValue;
import org.eclipse.tahu.message.model.SparkplugBPayload;

/** Makes and reads Sparkplug B payloads. */
final class Payloads {

    /** Stands for the value of a failed sensor. */
    static final Object FAILED = "failed";

    private static final String REBIRTH = "Node Control/Rebirth";
    private static final String BIRTH_DEATH = "bdSeq";
    /** Sparkplug's property for quality, and its code for bad. */
    private static final String QUALITY = "Quality";

    private static final int BAD = 0;

    private Payloads() {}

    static Metric metric(String name, long alias, Tag tag, Object value, Instant at) {
        try {
            MetricDataType type = UnitTags.isFlag(tag)
                    ? MetricDataType.Boolean
                    : UnitTags.isCount(tag) ? MetricDataType.Int64 : MetricDataType.Float;
            boolean failed = value == FAILED;
            var builder = new Metric.MetricBuilder(name, type, failed ? null : value)
                    .alias(alias)
                    .timestamp(Date.from(at));
            if (failed) {
                builder.properties(new PropertySet.PropertySetBuilder()
                        .addProperty(QUALITY, new PropertyValue<>(PropertyDataType.Int32, BAD))
                        .createPropertySet());
            }
            return builder.createMetric();
        } catch (SparkplugInvalidTypeException e) {
            throw new IllegalStateException(tag.source() + " does not fit Sparkplug: " + value, e);
        }
    }

    static byte[] nodeBirth(int sequence, long birthDeath) {
        try {
            return of(
                    sequence,
                    Instant.now(),
                    List.of(
                            new Metric.MetricBuilder(BIRTH_DEATH, MetricDataType.Int64, birthDeath).createMetric(),
                            new Metric.MetricBuilder(REBIRTH, MetricDataType.Boolean, false).createMetric()));
        } catch (SparkplugInvalidTypeException e) {
            throw new IllegalStateException(e);
        }
    }

    /** A death carries no sequence number. */
    static byte[] death(long birthDeath) {
        try {
            return encode(new SparkplugBPayload.SparkplugBPayloadBuilder()
                    .setTimestamp(new Date())
                    .addMetric(new Metric.MetricBuilder(BIRTH_DEATH, MetricDataType.Int64, birthDeath).createMetric())
                    .createPayload());
        } catch (SparkplugInvalidTypeException e) {
            throw new IllegalStateException(e);
        }
    }

    static byte[] of(int sequence, Instant at, List<Metric> metrics) {
        return encode(new SparkplugBPayload.SparkplugBPayloadBuilder(sequence + 0L)
                .setTimestamp(Date.from(at))
                .addMetrics(metrics)
                .createPayload());
    }

    private static byte[] encode(SparkplugBPayload payload) {
        try {
            return new SparkplugBPayloadEncoder().getBytes(payload, false);
        } catch (IOException e) {
            throw new IllegalStateException("a payload cannot be encoded", e);
        }
    }

    static boolean asksForRebirth(byte[] payload) {
        try {
            return new SparkplugBPayloadDecoder()
                    .buildFromByteArray(payload, null).getMetrics().stream()
                            .anyMatch(metric ->
                                    REBIRTH.equals(metric.getName()) && Boolean.TRUE.equals(metric.getValue()));
        } catch (Exception e) {
            return false;
        }
    }
}
