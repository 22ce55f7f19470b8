package io.loopwarden.mqtt.payload;

import io.loopwarden.mqtt.payload.SparkplugPayload.Metric;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** What the last birth of a node or a device announced. */
final class SparkplugSection {

    /** @param mapped whether the point map knows it: the rest is announced, but nobody wants it */
    record Known(String name, int dataType, boolean mapped) {}

    private final Map<String, Known> byName = new HashMap<>();
    private final Map<Long, Known> byAlias = new HashMap<>();
    private final List<String> mappedNames = new ArrayList<>();
    private boolean unsure;

    SparkplugSection(List<Metric> birth, Set<String> mappedTags) {
        for (Metric metric : birth) {
            if (metric.name() == null) {
                continue;
            }
            Known known = new Known(metric.name(), metric.dataType(), mappedTags.contains(metric.name()));
            if (byName.put(metric.name(), known) == null && known.mapped()) {
                mappedNames.add(metric.name());
            }
            if (metric.alias() >= 0) {
                byAlias.put(metric.alias(), known);
            }
        }
    }

    /** Null if the birth did not announce it. */
    Known find(Metric metric) {
        return metric.name() != null ? byName.get(metric.name()) : byAlias.get(metric.alias());
    }

    boolean isMapped(String name) {
        return byName.get(name).mapped();
    }

    List<String> mappedNames() {
        return mappedNames;
    }

    Set<String> namesOf(Set<String> names, Set<Long> aliases) {
        Set<String> all = new HashSet<>(names);
        for (long alias : aliases) {
            Known known = byAlias.get(alias);
            if (known != null) {
                all.add(known.name());
            }
        }
        return all;
    }

    /** Something was missed since the birth. */
    void becomeUnsure() {
        unsure = true;
    }

    boolean isUnsure() {
        return unsure;
    }
}
