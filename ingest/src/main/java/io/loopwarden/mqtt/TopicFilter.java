package io.loopwarden.mqtt;

import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** The rules for topic filters (MQTT 5, 4.7). */
final class TopicFilter {

    private TopicFilter() {}

    /** @return the rest of a sentence about what is wrong, empty if nothing is */
    static Optional<String> fault(String filter) {
        if (filter.isEmpty()) {
            return Optional.of("is empty");
        }
        if (filter.getBytes(StandardCharsets.UTF_8).length > 65_535 || filter.indexOf('\0') >= 0) {
            return Optional.of("is longer than 65535 bytes or contains a zero");
        }
        String[] levels = filter.split("/", -1);
        for (int i = 0; i < levels.length; i++) {
            String level = levels[i];
            if (level.contains("#") && (!level.equals("#") || i < levels.length - 1)) {
                return Optional.of("has a '#' that is not the last level alone");
            }
            if (level.contains("+") && !level.equals("+")) {
                return Optional.of("has a '+' that is not a level alone");
            }
        }
        return Optional.empty();
    }
}
