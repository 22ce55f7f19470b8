package io.loopwarden.statistics;

import io.loopwarden.statistics.Computed.Reason;

/** What a test expects of a computed figure: a value, or a reason. */
public final class Values {

    private Values() {}

    public static <T> T valueOf(Computed<T> computed) {
        return computed.fold(v -> v, gap -> {
            throw new AssertionError("expected a value, got " + gap.reason() + ": " + gap.detail());
        });
    }

    public static Reason reasonOf(Computed<?> computed) {
        return gapOf(computed).reason();
    }

    public static String detailOf(Computed<?> computed) {
        return gapOf(computed).detail();
    }

    private static <T> Computed.Unavailable<T> gapOf(Computed<T> computed) {
        return computed.fold(
                v -> {
                    throw new AssertionError("expected a reason, got " + v);
                },
                gap -> gap);
    }
}
