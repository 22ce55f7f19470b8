package io.loopwarden.fleetfile;

import io.loopwarden.yaml.Nearest;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Things other files refer to by name, and the files that were to give some but have faults. */
final class Named<T> {

    private record Item<T>(String file, T value) {}

    private final Map<String, Item<T>> items = new LinkedHashMap<>();
    private final List<String> broken = new ArrayList<>();

    /** Keeps the first of a name; answers the file that had the name before. */
    Optional<String> add(String name, String file, T value) {
        Item<T> before = items.putIfAbsent(name, new Item<>(file, value));
        return Optional.ofNullable(before).map(Item::file);
    }

    void addBroken(String file) {
        broken.add(file);
    }

    Optional<T> get(String name) {
        return Optional.ofNullable(items.get(name)).map(Item::value);
    }

    /** Why there is nothing of that name. */
    String missing(String what, String name) {
        String hint = Nearest.hint(name, items.keySet());
        return "there is no " + what + " '" + name + "' without faults" + hint
                + (broken.isEmpty() ? "" : "; with faults: " + String.join(", ", broken));
    }
}
