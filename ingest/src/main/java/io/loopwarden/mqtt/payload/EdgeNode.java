package io.loopwarden.mqtt.payload;

import java.util.Objects;

/** A Sparkplug edge node: a group and a name in it. */
public record EdgeNode(String group, String name) {

    public EdgeNode {
        Objects.requireNonNull(group, "group");
        Objects.requireNonNull(name, "name");
    }

    @Override
    public String toString() {
        return group + "/" + name;
    }
}
