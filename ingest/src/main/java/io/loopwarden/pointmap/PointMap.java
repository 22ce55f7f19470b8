package io.loopwarden.pointmap;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Collectors;

/** All tags of one supplier's model over one protocol. */
public final class PointMap {

    /**
     * @param source the tag: a node id, a metric name, or {@code holding/100}; may contain {@code {unit}}, which stands for the name
     *     the controller uses for the unit
     * @param register how to read it, for Modbus; null for the other protocols
     * @param conversion from the number the source sends to the inner unit; sign, scale and offset of the map are folded in
     * @param plausibleLowSi lowest believable value, in the inner unit of the point; a value beyond is kept with quality uncertain
     * @param plausibleHighSi highest believable value, in the inner unit of the point
     */
    public record Entry(
            PointName point,
            String source,
            Conversion conversion,
            RegisterLayout register,
            double plausibleLowSi,
            double plausibleHighSi) {

        public Entry {
            Objects.requireNonNull(point, "point");
            Objects.requireNonNull(source, "source");
            Objects.requireNonNull(conversion, "conversion");
            if (!(plausibleLowSi < plausibleHighSi)) {
                throw new IllegalArgumentException(
                        "plausible range of " + point + " is empty: " + plausibleLowSi + " to " + plausibleHighSi);
            }
        }

        public boolean isPlausible(double valueSi) {
            return valueSi >= plausibleLowSi && valueSi <= plausibleHighSi;
        }

        /** The tag for the unit that the controller knows under that name. */
        public String sourceFor(String nameAtSource) {
            return source.replace("{unit}", nameAtSource);
        }
    }

    private final String name;
    private final String protocol;
    private final List<Entry> entries;

    public PointMap(String name, String protocol, List<Entry> entries) {
        this.name = Objects.requireNonNull(name, "name");
        this.protocol = Objects.requireNonNull(protocol, "protocol");
        this.entries = List.copyOf(entries);
    }

    public String name() {
        return name;
    }

    public String protocol() {
        return protocol;
    }

    public List<Entry> entries() {
        return entries;
    }

    /** The entries by tag, for the unit that the controller knows under that name. */
    public Map<String, Entry> bySource(String nameAtSource) {
        return entries.stream().collect(Collectors.toMap(entry -> entry.sourceFor(nameAtSource), Function.identity()));
    }
}
