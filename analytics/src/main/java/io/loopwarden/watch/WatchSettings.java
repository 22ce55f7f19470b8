package io.loopwarden.watch;

import io.loopwarden.exchanger.CleaningCosts;
import io.loopwarden.exchanger.FoulingSettings;
import io.loopwarden.indicator.IndicatorSettings;
import io.loopwarden.inventory.LeakSettings;
import java.time.Duration;
import java.util.Objects;

/**
 * How a unit's samples are gathered and when its state counts as steady.
 *
 * @param latest span of the short means, 1 s to 60 s
 * @param staleAfter a point that is silent for longer has stopped coming; sources that send changes only must repeat within it
 * @param clockAheadLimit samples further ahead of the time we received them are not taken
 * @param shortestSteady least length of a steady window, 1 to 15 min
 * @param leastGoodShare share of a window's bins that must hold a good value
 * @param temperatureLimitK a temperature that moves by less within a window counts as steady
 * @param flowLimitRatio the same for flows, of the window's mean
 * @param positionLimit the same for valve positions
 * @param holdLast how long a function's signal stays as last judged while it cannot be judged
 */
public record WatchSettings(
        Duration latest,
        Duration staleAfter,
        Duration clockAheadLimit,
        Duration shortestSteady,
        double leastGoodShare,
        double temperatureLimitK,
        double flowLimitRatio,
        double positionLimit,
        Duration holdLast,
        IndicatorSettings indicators,
        FoulingSettings fouling,
        LeakSettings leaks) {

    public static final WatchSettings DEFAULT = new WatchSettings(
            Duration.ofSeconds(10),
            Duration.ofSeconds(60),
            Duration.ofMinutes(5),
            Duration.ofMinutes(2),
            0.8,
            0.25,
            0.03,
            0.04,
            Duration.ofHours(24),
            IndicatorSettings.DEFAULT,
            FoulingSettings.DEFAULT,
            LeakSettings.DEFAULT);

    public WatchSettings {
        requireWithin("latest", latest, Duration.ofSeconds(1), Duration.ofSeconds(60));
        requireWithin("stale after", staleAfter, Duration.ofSeconds(5), Duration.ofMinutes(15));
        requireWithin("clock ahead limit", clockAheadLimit, Duration.ZERO, Duration.ofDays(1));
        requireWithin("shortest steady window", shortestSteady, Duration.ofMinutes(1), Duration.ofMinutes(15));
        requireWithin("hold last", holdLast, Duration.ZERO, Duration.ofDays(30));
        requireWithin("least good share", leastGoodShare, 0.1, 1);
        requireWithin("temperature limit (K)", temperatureLimitK, 0.001, 10);
        requireWithin("flow limit (ratio)", flowLimitRatio, 0.001, 1);
        requireWithin("position limit", positionLimit, 0.001, 1);
        Objects.requireNonNull(indicators, "indicators");
        Objects.requireNonNull(fouling, "fouling");
        Objects.requireNonNull(leaks, "leaks");
    }

    /** The same with another way to keep the fouling history. */
    public WatchSettings withFouling(FoulingSettings other) {
        return with(indicators, other);
    }

    /** The same with other costs of cleaning. */
    public WatchSettings withCleaning(CleaningCosts other) {
        return with(indicators.withCleaning(other), fouling);
    }

    private WatchSettings with(IndicatorSettings otherIndicators, FoulingSettings otherFouling) {
        return new WatchSettings(
                latest,
                staleAfter,
                clockAheadLimit,
                shortestSteady,
                leastGoodShare,
                temperatureLimitK,
                flowLimitRatio,
                positionLimit,
                holdLast,
                otherIndicators,
                otherFouling,
                leaks);
    }

    private static void requireWithin(String name, Duration value, Duration least, Duration most) {
        Objects.requireNonNull(value, name);
        if (value.compareTo(least) < 0 || value.compareTo(most) > 0) {
            throw new IllegalArgumentException(name + " is " + value + ", must be " + least + " to " + most);
        }
    }

    private static void requireWithin(String name, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new IllegalArgumentException(name + " is " + value + ", must be " + least + " to " + most);
        }
    }
}
