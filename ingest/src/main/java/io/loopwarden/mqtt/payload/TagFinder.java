package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.FoundTag;
import io.loopwarden.collector.RawReading;
import io.loopwarden.fleet.RawValue;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Collects the tags that messages name, whatever units they are of. Not safe for several threads. */
public final class TagFinder {

    private static final int MOST_TAGS = 5_000;
    private static final String LAST_LEVEL = "/telemetry";

    private record Key(String unit, String tag) {}

    private final boolean sparkplug;
    private final int maxPayloadBytes;
    private final Map<String, FoundTag> found = new TreeMap<>();
    private final Map<Key, String> namesByAlias = new HashMap<>();

    public TagFinder(boolean sparkplug, int maxPayloadBytes) {
        this.sparkplug = sparkplug;
        this.maxPayloadBytes = maxPayloadBytes;
    }

    public void take(Arrival arrival) {
        if (arrival.payload().length == 0) {
            return;
        }
        if (sparkplug) {
            takeSparkplug(arrival);
        } else {
            takeJson(arrival);
        }
    }

    public List<FoundTag> found() {
        return List.copyOf(found.values());
    }

    private void takeJson(Arrival arrival) {
        if (!(JsonPayload.parse(arrival.payload(), maxPayloadBytes) instanceof JsonPayload.Message message)) {
            return;
        }
        String topic = arrival.topic();
        String before = topic.endsWith(LAST_LEVEL) ? topic.substring(0, topic.length() - LAST_LEVEL.length()) : "";
        String unit = message.unit() == null ? before.substring(before.lastIndexOf('/') + 1) : message.unit();
        for (JsonPayload.Value value : message.values()) {
            Instant at = value.time() == null ? arrival.receivedAt() : value.time();
            add(
                    unit,
                    value.tag(),
                    Optional.ofNullable(value.ucum()),
                    new RawReading(value.tag(), at, value.value(), value.quality()));
        }
    }

    private void takeSparkplug(Arrival arrival) {
        Optional<SparkplugTopic> topic = SparkplugTopic.parse(arrival.topic());
        if (topic.isEmpty()
                || topic.get().type().isCommand()
                || !(SparkplugPayload.parse(arrival.payload(), maxPayloadBytes)
                        instanceof SparkplugPayload.Message message)) {
            return;
        }
        SparkplugTopic from = topic.get();
        String unit = from.node().name() + (from.device() == null ? "" : "/" + from.device());
        for (SparkplugPayload.Metric metric : message.metrics()) {
            Key alias = new Key(unit, Long.toString(metric.alias()));
            if (metric.name() != null && metric.alias() >= 0) {
                namesByAlias.put(alias, metric.name());
            }
            String name = metric.name() == null ? namesByAlias.get(alias) : metric.name();
            RawValue value = metric.value().as(metric.dataType()) instanceof SparkplugValue.Read.Number number
                    ? number.value()
                    : RawValue.NONE;
            if (name != null) {
                Instant at = metric.time() == null ? arrival.receivedAt() : metric.time();
                add(unit, name, Optional.empty(), new RawReading(name, at, value, metric.quality()));
            }
        }
    }

    private void add(String unit, String tag, Optional<String> ucum, RawReading value) {
        if (found.size() < MOST_TAGS) {
            found.put(unit + "\n" + tag, new FoundTag(unit, tag, "", ucum, value));
        }
    }
}
