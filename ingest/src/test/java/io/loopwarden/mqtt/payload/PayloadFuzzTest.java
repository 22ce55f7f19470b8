package io.loopwarden.mqtt.payload;

import io.loopwarden.fuzz.Fuzz;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Date;
import java.util.List;
import org.eclipse.tahu.message.SparkplugBPayloadEncoder;
import org.eclipse.tahu.message.model.Metric.MetricBuilder;
import org.eclipse.tahu.message.model.MetricDataType;
import org.eclipse.tahu.message.model.PropertyDataType;
import org.eclipse.tahu.message.model.PropertySet;
import org.eclipse.tahu.message.model.PropertyValue;
import org.eclipse.tahu.message.model.SparkplugBPayload;
import org.junit.jupiter.api.Test;

/** Broken messages; {@code deploy/fuzz} runs many more. */
class PayloadFuzzTest {

    private static final int MOST_BYTES = 262_144;

    @Test
    void json() {
        List<byte[]> corpus = new ArrayList<>();
        for (String text : List.of(
                "{\"unit\":\"CDU03\",\"time\":\"2026-11-25T08:00:00.250Z\",\"values\":{\"T\":31.42,\"P1\":true,\"E\":9007199254740993}}",
                "{\"time\":1795593600100,\"values\":{\"F\":{\"value\":412.5,\"time\":1795593600100,\"quality\":\"uncertain\",\"unit\":\"[gal_us]/min\",\"code\":7},\"L\":null}}",
                "{\"values\":{}}",
                "{\"unit\":\"a\",\"more\":[[{\"x\":[1,2,{}]}],\"y\"],\"values\":{\"T\":-0.0,\"U\":1e-300}}")) {
            corpus.add(text.getBytes(StandardCharsets.UTF_8));
        }
        Fuzz.run("json", corpus, MOST_BYTES, input -> JsonPayload.parse(input, MOST_BYTES));
    }

    @Test
    void sparkplug() throws Exception {
        PropertySet bad = new PropertySet();
        bad.put("quality", new PropertyValue<>(PropertyDataType.Int32, 0));
        SparkplugBPayload birth = new SparkplugBPayload(
                new Date(1_795_593_600_100L),
                List.of(
                        new MetricBuilder("bdSeq", MetricDataType.Int64, 3L).createMetric(),
                        new MetricBuilder("T", MetricDataType.Double, 31.4)
                                .alias(1L)
                                .createMetric(),
                        new MetricBuilder("N", MetricDataType.String, "text")
                                .alias(2L)
                                .properties(bad)
                                .createMetric()),
                0L,
                null,
                null);
        SparkplugBPayload data = new SparkplugBPayload(
                new Date(1_795_593_601_100L),
                List.of(
                        new MetricBuilder("T", MetricDataType.Float, 31.5f).createMetric(),
                        new MetricBuilder("U", MetricDataType.Boolean, true)
                                .alias(2L)
                                .createMetric()),
                1L,
                null,
                null);
        SparkplugBPayloadEncoder encoder = new SparkplugBPayloadEncoder();
        Fuzz.run(
                "sparkplug",
                List.of(encoder.getBytes(birth, false), encoder.getBytes(data, false)),
                MOST_BYTES,
                input -> SparkplugPayload.parse(input, MOST_BYTES));
    }
}
