package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.Instant;
import java.util.List;
import java.util.Map;

/**
 * One unit as the fleet page shows it.
 *
 * @param coolant what fills the TCS loop: {@code water}, or {@code PG-25} for 25 % propylene glycol by mass
 * @param lastSampleAt source time of the newest sample; absent before the first
 * @param figures by key
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record UnitRow(
        String id,
        String hall,
        String supplier,
        String model,
        String coolant,
        double ratedDutyW,
        double ratedApproachK,
        Signal signal,
        ConnectionState connection,
        Instant lastSampleAt,
        List<FunctionState> functions,
        Map<String, FigureView> figures) {

    /**
     * NAMUR NE 107.
     *
     * @param code good, maintenance-required, out-of-specification, function-check or failure
     * @param function the function that decides it
     * @param judged false where it is repeated from when it could last be judged
     */
    public record Signal(String code, String function, String reason, boolean judged) {}

    /** @param state connecting, connected, lost or closed; {@code none} for a unit without a connection that works */
    public record ConnectionState(String name, String protocol, String state, String detail) {}

    /**
     * @param reserve what the function could do, over what its nameplate promised; for instruments the closure of the heat balance
     * @param sentence the figure in words
     */
    public record FunctionState(String function, Signal signal, FigureView reserve, String sentence) {}
}
