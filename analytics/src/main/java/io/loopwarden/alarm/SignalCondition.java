package io.loopwarden.alarm;

import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.UnitFunction;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;

/** A function of a unit whose NE 107 signal is at least so urgent; a function that cannot be judged says nothing. */
public record SignalCondition(UnitFunction function, Ne107 atLeast) implements Condition {

    public SignalCondition {
        Objects.requireNonNull(function, "function");
        Objects.requireNonNull(atLeast, "atLeast");
        if (atLeast == Ne107.GOOD) {
            throw new IllegalArgumentException("a signal of at least good would always be an alarm");
        }
    }

    @Override
    public boolean concerns(Facts facts) {
        return facts instanceof Facts.OfUnit;
    }

    @Override
    public Verdict judge(Facts facts) {
        Optional<FunctionSignal> signal = ((Facts.OfUnit) facts)
                .figures().signals().stream()
                        .filter(each -> each.function() == function)
                        .findFirst();
        if (signal.isEmpty()) {
            return new Verdict(Verdict.Kind.UNKNOWN, function.words() + " is not judged");
        }
        if (!signal.get().judged()) {
            return new Verdict(Verdict.Kind.UNKNOWN, signal.get().reason());
        }
        boolean beyond = signal.get().signal().compareTo(atLeast) >= 0;
        return new Verdict(
                beyond ? Verdict.Kind.BEYOND : Verdict.Kind.GOOD, signal.get().reason());
    }

    @Override
    public String words() {
        return function.words() + " at least "
                + atLeast.name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }
}
