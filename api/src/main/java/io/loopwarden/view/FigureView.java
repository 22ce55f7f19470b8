package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.indicator.IndicatorResult;
import java.time.Instant;
import java.util.Locale;

/**
 * One figure as it leaves: either value and standard uncertainty, or reason and detail.
 *
 * @param unit UCUM code of value and standard uncertainty
 * @param from start of the window of samples it came from
 * @param to end of that window
 * @param reason a name of {@link io.loopwarden.statistics.Computed.Reason}, in lower case with hyphens
 * @param detail one sentence: why there is no value
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record FigureView(
        String key,
        String unit,
        Double value,
        Double standardUncertainty,
        Instant from,
        Instant to,
        String reason,
        String detail) {

    public static FigureView of(IndicatorResult result) {
        return result.value()
                .fold(
                        estimate -> new FigureView(
                                result.key(),
                                result.unit(),
                                estimate.value(),
                                estimate.standardUncertainty(),
                                result.from(),
                                result.to(),
                                null,
                                null),
                        gap -> new FigureView(
                                result.key(),
                                result.unit(),
                                null,
                                null,
                                result.from(),
                                result.to(),
                                hyphenated(gap.reason()),
                                gap.detail()));
    }

    static String hyphenated(Enum<?> name) {
        return name.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
