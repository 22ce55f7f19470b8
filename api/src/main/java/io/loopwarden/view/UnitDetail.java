package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.annotation.JsonUnwrapped;
import java.time.Instant;
import java.util.List;
import java.util.Map;

/**
 * One unit in full.
 *
 * @param headline the sentence that answers the reader's question
 * @param hidden what the controller hides, in words
 * @param sentences each figure in words, by key
 * @param leak why a leak is suspected or not; absent within the first quarter of an hour
 */
public record UnitDetail(
        @JsonUnwrapped UnitRow row,
        String headline,
        String hidden,
        NameplateView nameplate,
        Map<String, String> sentences,
        List<PointView> points,
        @JsonInclude(JsonInclude.Include.NON_NULL) LeakView leak) {

    /** The nameplate; names carry their unit. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record NameplateView(
            double ratedDutyW,
            double ratedApproachK,
            double ratedTcsFlowM3PerS,
            double ratedFwsFlowM3PerS,
            double availableHeadPa,
            double designFwsSupplyTemperatureC,
            String tcsCoolant,
            String fwsCoolant,
            int pumps,
            int pumpsNeeded,
            int exchangers,
            int filters,
            double loopVolumeM3,
            double reservoirVolumeM3,
            double filterTerminalDpPa,
            Double plateAreaM2) {}

    /**
     * The newest sample of a point.
     *
     * @param unit UCUM code of {@code value}
     * @param value absent where the source sent a status and no value
     * @param quality good, uncertain or bad
     * @param code the protocol's own code
     * @param sourceUnit UCUM code of what the source sends
     * @param sourceValue what it sent; text, so that a 64-bit counter survives
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record PointView(
            String point,
            String quantity,
            String unit,
            Double value,
            String quality,
            long code,
            Instant measuredAt,
            String sourceUnit,
            String sourceValue) {}
}
