package io.loopwarden.virtual.serve;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.scenario.FleetFile;
import io.loopwarden.virtual.scenario.Tag;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/** Publishes the readings of some units in the JSON form, one message a unit and scan, with QoS 1. */
public final class JsonPublisher implements Served {

    private static final ObjectMapper JSON = new ObjectMapper();

    private final String broker;
    private final String topicFilter;
    private final Map<String, UnitTags> units;
    private final BrokerLink link;

    public JsonPublisher(FleetFile fleet, FleetFile.Line line, String broker) {
        this.broker = broker;
        this.topicFilter = line.settings().get("topics");
        this.units = UnitTags.of(fleet, line).stream().collect(Collectors.toMap(UnitTags::id, unit -> unit));
        this.link = new BrokerLink(broker, "virtual-" + line.name());
    }

    @Override
    public void show(String id, Readings readings) {
        if (!link.ready(NOTHING_TO_SAY, (topic, payload) -> {})) {
            return;
        }
        UnitTags unit = units.get(id);
        link.publish(topicFilter.replace("+", unit.nameAtSource()), message(unit, readings), 1);
    }

    private static byte[] message(UnitTags unit, Readings readings) {
        ObjectNode message = JSON.createObjectNode();
        message.put("unit", unit.nameAtSource());
        message.put("time", readings.at().toString());
        ObjectNode values = message.putObject("values");
        for (Tag tag : unit.tags()) {
            String source = tag.source(unit.nameAtSource());
            double raw = unit.raw(tag, readings);
            if (readings.isBad(tag.point().value())) {
                values.putNull(source);
            } else if (UnitTags.isFlag(tag)) {
                values.put(source, raw > 0.5);
            } else if (UnitTags.isCount(tag)) {
                values.put(source, Math.round(raw));
            } else {
                // Nine digits: more than any of these sensors has, and no tail of the conversion's rounding.
                values.put(source, Double.parseDouble(String.format(Locale.ROOT, "%.9g", raw)));
            }
        }
        try {
            return JSON.writeValueAsBytes(message);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a message of " + unit.id() + " cannot be written", e);
        }
    }

    @Override
    public void silence(String id) {
        // A controller that has stopped sends nothing.
    }

    @Override
    public String endpoint() {
        return broker;
    }

    @Override
    public void close() {
        link.close();
    }

    private static final BrokerLink.Opening NOTHING_TO_SAY = new BrokerLink.Opening() {
        @Override
        public Optional<BrokerLink.Will> will() {
            return Optional.empty();
        }

        @Override
        public void opened() {
            // Nothing is announced in this form.
        }
    };
}
