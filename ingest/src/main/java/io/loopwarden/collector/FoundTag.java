package io.loopwarden.collector;

import java.util.Objects;
import java.util.Optional;

/**
 * A tag that was seen at a source before any point map.
 *
 * @param unitAtSource what the controller calls the unit; empty where it cannot be told
 * @param source the tag as a point map would spell it
 * @param about what the source says of it; may be empty
 * @param ucum the unit of measure the source states, as it spells it
 * @param value its newest value, as sent
 */
public record FoundTag(String unitAtSource, String source, String about, Optional<String> ucum, RawReading value) {

    public FoundTag {
        Objects.requireNonNull(unitAtSource, "unitAtSource");
        Objects.requireNonNull(source, "source");
        Objects.requireNonNull(about, "about");
        Objects.requireNonNull(ucum, "ucum");
        Objects.requireNonNull(value, "value");
    }
}
