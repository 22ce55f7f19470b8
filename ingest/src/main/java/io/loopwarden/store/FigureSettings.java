package io.loopwarden.store;

import java.time.Duration;
import java.time.Period;

/**
 * How long figures are kept.
 *
 * @param keepMinutes how long each minute is kept
 * @param keepHours how long the least, greatest and mean of each hour are kept
 * @param closeAfter a day's hours are made so long after its end
 */
public record FigureSettings(Period keepMinutes, Period keepHours, Duration closeAfter) {

    public static final FigureSettings DEFAULT =
            new FigureSettings(Period.ofDays(15), Period.ofDays(3653), Duration.ofMinutes(3));

    public FigureSettings {
        if (keepMinutes.getDays() < 2 || keepHours.getDays() < keepMinutes.getDays()) {
            throw new IllegalArgumentException("minutes are kept for " + keepMinutes + " and hours for " + keepHours
                    + "; must be at least 2 days, and hours no shorter than minutes");
        }
    }
}
