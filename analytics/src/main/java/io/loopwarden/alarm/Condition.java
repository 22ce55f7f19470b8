package io.loopwarden.alarm;

import java.util.Locale;
import java.util.Set;

/** What makes an alarm: pure, at one instant; delays are {@link Delay}'s. */
public sealed interface Condition
        permits FigureCondition, PointCondition, SignalCondition, SilenceCondition, PartCondition {

    /** Whether it is about this source at all. */
    boolean concerns(Facts facts);

    /** Called only for facts it concerns. */
    Verdict judge(Facts facts);

    /** The condition in words, for people who decide whether it is a good one. */
    String words();

    /** Points whose course shows people why: at most two are drawn. */
    default Set<String> points() {
        return Set.of();
    }

    static String text(double value) {
        double size = Math.abs(value);
        String format = size == 0 || size >= 100 ? "%.0f" : size >= 10 ? "%.1f" : size >= 0.1 ? "%.2f" : "%.4f";
        return String.format(Locale.ROOT, format, value);
    }
}
