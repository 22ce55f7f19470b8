package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.mqtt.payload.SparkplugPayload.Message;
import io.loopwarden.mqtt.payload.SparkplugPayload.Metric;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;

/**
 * What is known of one edge node: whether it lives, its sequence, its devices (Sparkplug 3.0, chapter 5). No input and no clock of
 * its own; whatever comes, it answers and never throws.
 *
 * <p>The specification lets a host wait before a gap counts, for messages that overtook each other. One broker connection keeps their
 * order, so a gap counts at once.
 */
final class SparkplugSession {

    /** @param readings by device; the key of the node itself is the empty text */
    record Outcome(Map<String, List<RawReading>> readings, List<Refusal> refusals, boolean rebirthWanted) {}

    /** Sparkplug's code for a value that was true once. */
    static final long STALE = 500;

    private static final String NODE = "";
    private static final String BD_SEQ = "bdSeq";
    private static final int UNKNOWN = -1;

    private final EdgeNode node;
    private final Function<String, Optional<Set<String>>> tagsOf;
    private final Map<String, SparkplugSection> sections = new LinkedHashMap<>();
    private boolean alive;
    private boolean trackLost;
    private int nextSeq;
    private long bdSeq = UNKNOWN;

    /** @param tagsOf what the point map of a device, or for the empty text of the node, knows; empty if it is nobody's unit */
    SparkplugSession(EdgeNode node, Function<String, Optional<Set<String>>> tagsOf) {
        this.node = node;
        this.tagsOf = tagsOf;
    }

    /** Messages may have been missed in any number, whatever the next one's sequence says. */
    void trackLost() {
        trackLost = alive;
    }

    /**
     * @param device of the topic; null for the node's own messages
     * @param redelivered the broker has sent it before, and may not know that it was kept
     */
    Outcome on(SparkplugTopic.Type type, String device, Message message, boolean redelivered, Instant receivedAt) {
        Step step = new Step(message, receivedAt);
        switch (type) {
            case NBIRTH -> step.nodeBirth();
            case NDEATH -> step.nodeDeath(redelivered);
            case DBIRTH -> step.deviceBirth(device);
            case DDEATH -> step.deviceDeath(device);
            case NDATA -> step.data(NODE);
            case DDATA -> step.data(device);
            default -> {
                // commands of others are not for us
            }
        }
        return new Outcome(step.readings, step.refusals, step.rebirthWanted);
    }

    /** The handling of one message. */
    private final class Step {

        private final Message message;
        private final Instant receivedAt;
        private final Map<String, List<RawReading>> readings = new LinkedHashMap<>();
        private final List<Refusal> refusals = new ArrayList<>();
        private boolean rebirthWanted;

        Step(Message message, Instant receivedAt) {
            this.message = message;
            this.receivedAt = receivedAt;
        }

        void nodeBirth() {
            if (!hasSeq()) {
                refuse(RejectReason.OUT_OF_SEQUENCE, "birth of " + node + " without a sequence number from 0 to 255");
                alive = false; // what it announced before does not hold any more
                return;
            }
            sections.clear();
            alive = true;
            trackLost = false;
            nextSeq = after(message.seq());
            bdSeq = bdSeqOf(message);
            birth(NODE);
        }

        void nodeDeath(boolean redelivered) {
            long ended = bdSeqOf(message);
            boolean current = ended == bdSeq || ended == UNKNOWN || bdSeq == UNKNOWN;
            if (!current || (!alive && !redelivered)) {
                return; // the will of a connection that another has followed
            }
            alive = false;
            sections.forEach((device, section) -> markStale(device, section, Set.of()));
        }

        void deviceBirth(String device) {
            if (follows("birth of device " + device)) {
                birth(device);
            }
        }

        void deviceDeath(String device) {
            if (!follows("death of device " + device)) {
                return;
            }
            SparkplugSection section = sections.remove(device);
            if (section != null) {
                markStale(device, section, Set.of());
            }
        }

        void data(String device) {
            if (!follows(device.equals(NODE) ? "data" : "data of device " + device)) {
                return;
            }
            SparkplugSection section = sections.get(device);
            if (section == null) {
                refuse(RejectReason.OUT_OF_SEQUENCE, "data of device " + device + " of " + node + " before its birth");
                rebirthWanted = true;
                return;
            }
            for (Metric metric : message.metrics()) {
                SparkplugSection.Known known = section.find(metric);
                if (known == null) {
                    refuse(RejectReason.OUT_OF_SEQUENCE, describe(metric) + " of " + node + " is in no birth");
                    rebirthWanted = true;
                } else if (known.mapped()) {
                    read(device, metric, known.name(), known.dataType(), section.isUnsure());
                }
            }
        }

        private void birth(String device) {
            Optional<Set<String>> tags = tagsOf.apply(device);
            SparkplugSection section = new SparkplugSection(message.metrics(), tags.orElse(Set.of()));
            sections.put(device, section);
            if (tags.isEmpty()) {
                if (!device.equals(NODE)) {
                    refuse(
                            RejectReason.UNKNOWN_UNIT,
                            "device '" + device + "' of " + node + " is not behind this connection");
                }
                return;
            }
            for (Metric metric : message.metrics()) {
                if (metric.name() == null) {
                    refuse(RejectReason.MALFORMED, describe(metric) + " has no name in a birth of " + node);
                } else if (section.isMapped(metric.name())) {
                    read(device, metric, metric.name(), metric.dataType(), false);
                } else if (!isControl(metric.name())) {
                    refuse(RejectReason.UNKNOWN_TAG, "'" + metric.name() + "' of " + node + " is in no point map");
                }
            }
        }

        /** Whether a message of a living node may be read; notices what is missing before it. */
        private boolean follows(String what) {
            if (!alive) {
                refuse(RejectReason.OUT_OF_SEQUENCE, what + " of " + node + " before its birth");
                rebirthWanted = true;
                return false;
            }
            if (!hasSeq()) {
                refuse(RejectReason.OUT_OF_SEQUENCE, what + " of " + node + " without a sequence number from 0 to 255");
                gap();
                return false;
            }
            if (message.seq() != nextSeq || trackLost) {
                refuse(
                        RejectReason.OUT_OF_SEQUENCE,
                        "gap before " + what + " of " + node + ": sequence " + message.seq() + " where " + nextSeq
                                + " was next; values are uncertain until the next birth");
                gap();
            }
            nextSeq = after(message.seq());
            trackLost = false;
            return true;
        }

        /** What is known may be out of date, and the next data may go by aliases that a missed birth has changed. */
        private void gap() {
            rebirthWanted = true;
            Set<String> inMessage = new HashSet<>();
            Set<Long> aliases = new HashSet<>();
            for (Metric metric : message.metrics()) {
                inMessage.add(metric.name());
                aliases.add(metric.alias());
            }
            sections.forEach((device, section) -> {
                if (!section.isUnsure()) {
                    section.becomeUnsure();
                    markStale(device, section, section.namesOf(inMessage, aliases));
                }
            });
        }

        private void markStale(String device, SparkplugSection section, Set<String> except) {
            for (String name : section.mappedNames()) {
                if (!except.contains(name)) {
                    add(device, new RawReading(name, receivedAt, RawValue.NONE, new Quality(Quality.Level.BAD, STALE)));
                }
            }
        }

        private void read(String device, Metric metric, String name, int birthType, boolean unsure) {
            Instant stated = metric.time() == null ? message.time() : metric.time();
            if (stated == null && metric.historical()) {
                refuse(RejectReason.TIME_FAR_OFF, "'" + name + "' of " + node + " is historical and has no time");
                return;
            }
            Instant measuredAt = stated == null ? receivedAt : stated;
            if (!SourceTime.isUsable(measuredAt)) {
                refuse(RejectReason.TIME_FAR_OFF, "'" + name + "' of " + node + " has time " + measuredAt);
                return;
            }
            SparkplugValue.Read read = metric.value().as(metric.dataType() == 0 ? birthType : metric.dataType());
            if (read instanceof SparkplugValue.Read.Number number) {
                Quality quality = qualityOf(number.value(), metric.quality(), unsure);
                add(device, new RawReading(name, measuredAt, number.value(), quality));
            } else if (read instanceof SparkplugValue.Read.Refused refused) {
                refuse(refused.reason(), "'" + name + "' of " + node + " " + refused.what());
            }
        }

        private void add(String device, RawReading reading) {
            readings.computeIfAbsent(device, key -> new ArrayList<>()).add(reading);
        }

        private void refuse(RejectReason reason, String detail) {
            refusals.add(new Refusal(reason, detail));
        }

        private boolean hasSeq() {
            return message.seq() >= 0 && message.seq() <= 255;
        }
    }

    private static Quality qualityOf(RawValue value, Quality told, boolean unsure) {
        if (value == RawValue.NONE) {
            return new Quality(Quality.Level.BAD, told.isGood() ? 0 : told.code());
        }
        return unsure && told.isGood() ? new Quality(Quality.Level.UNCERTAIN, STALE) : told;
    }

    private static int after(long seq) {
        return (int) (seq + 1) & 0xFF;
    }

    private static long bdSeqOf(Message message) {
        for (Metric metric : message.metrics()) {
            if (BD_SEQ.equals(metric.name()) && metric.value() instanceof SparkplugValue.Bits bits) {
                return bits.bits();
            }
        }
        return UNKNOWN;
    }

    private static boolean isControl(String name) {
        return name.equals(BD_SEQ) || name.startsWith("Node Control/") || name.startsWith("Device Control/");
    }

    private static String describe(Metric metric) {
        return metric.name() == null ? "alias " + metric.alias() : "'" + metric.name() + "'";
    }
}
