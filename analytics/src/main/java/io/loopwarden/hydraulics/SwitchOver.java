package io.loopwarden.hydraulics;

import java.util.List;

/** Other pumps run than before. */
public record SwitchOver(double atEpochS, List<Integer> from, List<Integer> to) {

    public SwitchOver {
        from = List.copyOf(from);
        to = List.copyOf(to);
    }
}
