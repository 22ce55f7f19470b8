package io.loopwarden.virtual.serve;

import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.scenario.FleetFile;
import io.loopwarden.virtual.scenario.Tag;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.eclipse.tahu.message.model.Metric;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A Sparkplug B edge node whose devices are units: births with names and aliases, then data by alias and by exception, a death by the
 * broker's will. It obeys one command, the request for a rebirth, and ignores every other; for subscribers that may not ask, it repeats
 * its birth now and then.
 */
public final class SparkplugNode implements Served {

    private static final Logger LOG = LoggerFactory.getLogger(SparkplugNode.class);

    private final String broker;
    private final String group;
    private final String node;
    private final Map<String, Device> devices = new LinkedHashMap<>();
    private final BrokerLink link;
    private final Line line = new Line();
    private long birthDeath = System.currentTimeMillis() / 1000 % 256;
    private int sequence;
    private final long rebirthEveryNs;
    private long bornAtNs;
    private volatile boolean rebirthAsked;

    private static final class Device {
        final UnitTags unit;
        final String name;
        final long firstAlias;
        final Map<String, Object> last = new HashMap<>();
        Readings readings;
        boolean born;

        Device(UnitTags unit, long firstAlias) {
            this.unit = unit;
            this.name = unit.nameAtSource().substring(unit.nameAtSource().indexOf('/') + 1);
            this.firstAlias = firstAlias;
        }
    }

    public SparkplugNode(FleetFile fleet, FleetFile.Line line, String broker, Duration rebirthEvery) {
        this.broker = broker;
        this.rebirthEveryNs = rebirthEvery.toNanos();
        this.group = line.settings().get("topics").split("/")[1];
        List<UnitTags> units = UnitTags.of(fleet, line);
        this.node = units.get(0).nameAtSource().split("/")[0];
        long alias = 1;
        for (UnitTags unit : units) {
            if (!unit.nameAtSource().startsWith(node + "/")) {
                throw new IllegalArgumentException(line.name() + ": unit " + unit.id() + " is '" + unit.nameAtSource()
                        + "' at source, but this connection's edge node is '" + node + "'");
            }
            devices.put(unit.id(), new Device(unit, alias));
            alias += unit.tags().size();
        }
        this.link = new BrokerLink(broker, "virtual-" + group + "-" + node);
    }

    @Override
    public synchronized void show(String id, Readings readings) {
        Device device = devices.get(id);
        device.readings = readings;
        if (!link.ready(line, this::received)) {
            return;
        }
        if (rebirthAsked || System.nanoTime() - bornAtNs > rebirthEveryNs) {
            rebirthAsked = false;
            birth();
        } else if (device.born) {
            data(device);
        } else {
            birth(device);
        }
    }

    @Override
    public synchronized void silence(String id) {
        Device device = devices.get(id);
        device.readings = null;
        if (device.born) {
            device.born = false;
            link.publish(topic("DDEATH", device), Payloads.of(next(), Instant.now(), List.of()), 0);
        }
    }

    private void received(String topic, byte[] payload) {
        if (Payloads.asksForRebirth(payload)) {
            rebirthAsked = true;
        } else {
            LOG.info("command on {} ignored: a virtual unit takes none", topic);
        }
    }

    private final class Line implements BrokerLink.Opening {

        @Override
        public Optional<BrokerLink.Will> will() {
            birthDeath = (birthDeath + 1) % 256;
            return Optional.of(new BrokerLink.Will(topic("NDEATH"), Payloads.death(birthDeath)));
        }

        @Override
        public void opened() {
            link.subscribe(topic("NCMD"));
            birth();
        }
    }

    private void birth() {
        sequence = 0;
        bornAtNs = System.nanoTime();
        link.publish(topic("NBIRTH"), Payloads.nodeBirth(next(), birthDeath), 0);
        devices.values().forEach(device -> device.born = false);
        devices.values().stream().filter(device -> device.readings != null).forEach(this::birth);
    }

    private void birth(Device device) {
        List<Metric> metrics = new ArrayList<>();
        device.last.clear();
        List<Tag> tags = device.unit.tags();
        for (int i = 0; i < tags.size(); i++) {
            Tag tag = tags.get(i);
            Object value = value(device, tag);
            device.last.put(tag.source(), value);
            metrics.add(Payloads.metric(
                    tag.source(device.unit.nameAtSource()), device.firstAlias + i, tag, value, device.readings.at()));
        }
        device.born = true;
        link.publish(topic("DBIRTH", device), Payloads.of(next(), device.readings.at(), metrics), 0);
    }

    private void data(Device device) {
        List<Metric> metrics = new ArrayList<>();
        List<Tag> tags = device.unit.tags();
        for (int i = 0; i < tags.size(); i++) {
            Tag tag = tags.get(i);
            Object value = value(device, tag);
            if (!value.equals(device.last.put(tag.source(), value))) {
                metrics.add(Payloads.metric(null, device.firstAlias + i, tag, value, device.readings.at()));
            }
        }
        if (!metrics.isEmpty()) {
            link.publish(topic("DDATA", device), Payloads.of(next(), device.readings.at(), metrics), 0);
        }
    }

    private static Object value(Device device, Tag tag) {
        double raw = device.unit.raw(tag, device.readings);
        if (device.readings.isBad(tag.point().value())) {
            return Payloads.FAILED;
        }
        if (UnitTags.isFlag(tag)) {
            return raw > 0.5;
        }
        return UnitTags.isCount(tag) ? (Object) Math.round(raw) : (Object) (float) raw;
    }

    private int next() {
        int now = sequence;
        sequence = (sequence + 1) % 256;
        return now;
    }

    private String topic(String type) {
        return "spBv1.0/" + group + "/" + type + "/" + node;
    }

    private String topic(String type, Device device) {
        return topic(type) + "/" + device.name;
    }

    @Override
    public String endpoint() {
        return broker;
    }

    @Override
    public synchronized void close() {
        if (devices.values().stream().anyMatch(device -> device.born)) {
            // A clean farewell is the edge node's to say; the broker speaks the will only for those who vanish.
            link.publish(topic("NDEATH"), Payloads.death(birthDeath), 1);
        }
        link.close();
    }
}
