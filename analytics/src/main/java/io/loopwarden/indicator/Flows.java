package io.loopwarden.indicator;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.Optional;

/** The flows on both sides of the exchanger, at least one of them known; the other then follows from the heat balance. */
record Flows(Optional<Estimate> tcs, Optional<Estimate> fws) {

    static Computed<Flows> of(Design design, Means means) {
        Computed<Estimate> tcs = Side.TCS.runningFlow(design, means);
        Computed<Estimate> fws = Side.FWS.runningFlow(design, means);
        return orUnknown(tcs)
                .flatMap(t -> orUnknown(fws)
                        .flatMap(f -> t.isEmpty() && f.isEmpty()
                                ? tcs.map(none -> new Flows(t, f))
                                : Computed.of(new Flows(t, f))));
    }

    /** A flow that nobody measures may be worked out; one that says standstill or contradicts physics is not hidden. */
    private static Computed<Optional<Estimate>> orUnknown(Computed<Estimate> flow) {
        return flow.fold(q -> Computed.of(Optional.of(q)), gap -> switch (gap.reason()) {
            case INPUT_MISSING, INPUT_STALE, INPUT_BAD -> Computed.of(Optional.empty());
            default -> Computed.unavailable(gap.reason(), gap.detail());
        });
    }
}
