package io.loopwarden.instruments;

import java.util.Objects;

/**
 * How far a sensor can be believed, and why not further.
 *
 * @param sinceEpochS since when, as far as the samples tell; 0 where nothing is wrong
 * @param doubt what its value may be off by, in the point's inner unit; 0 where nothing is wrong or all of it is
 * @param reason one sentence; empty where nothing is wrong
 */
public record Trust(Level level, Finding finding, double sinceEpochS, double doubt, String reason) {

    /** How far. */
    public enum Level {
        TRUSTED,
        /** Goes on into figures, with what it may be off by. */
        DOUBTED,
        /** Goes into no figure. */
        FAILED
    }

    /** What was found. */
    public enum Finding {
        NONE,
        CALLED_BAD,
        OUT_OF_RANGE,
        STUCK,
        NEVER_MOVED,
        NOISY,
        NOISE_GONE,
        SPIKES,
        COARSE,
        /** It, or one of a few that the data cannot tell apart, drifts. */
        DRIFTS
    }

    public static final Trust FULL = new Trust(Level.TRUSTED, Finding.NONE, 0, 0, "");

    public Trust {
        Objects.requireNonNull(level, "level");
        Objects.requireNonNull(finding, "finding");
        Objects.requireNonNull(reason, "reason");
        if (!(doubt >= 0) || Double.isInfinite(doubt)) {
            throw new IllegalArgumentException("doubt is " + doubt + ", must be finite and >= 0");
        }
    }

    public static Trust failed(Finding finding, double sinceEpochS, String reason) {
        return new Trust(Level.FAILED, finding, sinceEpochS, 0, reason);
    }

    public static Trust doubted(Finding finding, double sinceEpochS, double doubt, String reason) {
        return new Trust(Level.DOUBTED, finding, sinceEpochS, doubt, reason);
    }

    public boolean isFailed() {
        return level == Level.FAILED;
    }

    /** The worse of two. */
    public Trust and(Trust other) {
        return other.level.compareTo(level) > 0 ? other : this;
    }
}
