package io.loopwarden.mqtt.payload;

import java.util.Optional;

/**
 * {@code spBv1.0/<group>/<type>/<edge node>[/<device>]} (Sparkplug 3.0, chapter 4).
 *
 * @param device null for messages of the node itself
 */
record SparkplugTopic(Type type, EdgeNode node, String device) {

    enum Type {
        NBIRTH(false),
        NDEATH(false),
        DBIRTH(true),
        DDEATH(true),
        NDATA(false),
        DDATA(true),
        NCMD(false),
        DCMD(true);

        private final boolean ofDevice;

        Type(boolean ofDevice) {
            this.ofDevice = ofDevice;
        }

        boolean isCommand() {
            return this == NCMD || this == DCMD;
        }
    }

    private static final String NAMESPACE = "spBv1.0";

    /** What other host applications say about themselves; nothing to read there. */
    static boolean isHostState(String topic) {
        return topic.startsWith(NAMESPACE + "/STATE/");
    }

    static Optional<SparkplugTopic> parse(String topic) {
        String[] levels = topic.split("/", -1);
        if (levels.length < 4 || levels.length > 5 || !levels[0].equals(NAMESPACE)) {
            return Optional.empty();
        }
        for (String level : levels) {
            if (level.isEmpty()) {
                return Optional.empty();
            }
        }
        for (Type type : Type.values()) {
            if (type.name().equals(levels[2]) && type.ofDevice == (levels.length == 5)) {
                EdgeNode node = new EdgeNode(levels[1], levels[3]);
                return Optional.of(new SparkplugTopic(type, node, type.ofDevice ? levels[4] : null));
            }
        }
        return Optional.empty();
    }
}
