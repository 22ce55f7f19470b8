package io.loopwarden.virtual;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The options of a command line: {@code --name value}, or {@code --name} alone for switches. */
record Arguments(Map<String, String> values) {

    static Arguments parse(String[] words, List<String> named, Set<String> switches) {
        Map<String, String> values = new HashMap<>();
        for (int i = 0; i < words.length; i++) {
            String name = words[i].startsWith("--") ? words[i].substring(2) : "";
            if (switches.contains(name)) {
                values.put(name, "");
            } else if (named.contains(name) && i + 1 < words.length) {
                values.put(name, words[++i]);
            } else {
                throw new IllegalArgumentException("'" + words[i] + "' is not understood; options are --"
                        + String.join(" …, --", named) + " … and " + switches);
            }
        }
        return new Arguments(values);
    }

    Optional<String> text(String name) {
        return Optional.ofNullable(values.get(name));
    }

    String require(String name) {
        return text(name).orElseThrow(() -> new IllegalArgumentException("--" + name + " is missing"));
    }

    boolean has(String name) {
        return values.containsKey(name);
    }

    Optional<Double> number(String name) {
        return text(name).map(word -> {
            try {
                return Double.valueOf(word);
            } catch (NumberFormatException e) {
                throw new IllegalArgumentException("--" + name + " " + word + " is not a number", e);
            }
        });
    }
}
