package io.loopwarden.mqtt.payload;

import java.util.List;
import java.util.Optional;

/**
 * What one message comes to.
 *
 * @param rebirthWanted the edge node whose next birth would make its data readable or certain again
 */
public record Decoded(List<UnitReadings> units, List<Refusal> refusals, Optional<EdgeNode> rebirthWanted) {

    static final Decoded NOTHING = new Decoded(List.of(), List.of(), Optional.empty());

    public Decoded {
        units = List.copyOf(units);
        refusals = List.copyOf(refusals);
    }

    public static Decoded refused(Refusal refusal) {
        return new Decoded(List.of(), List.of(refusal), Optional.empty());
    }
}
