package io.loopwarden.exchanger;

import java.util.Objects;

/** What is remembered of an exchanger beside its fouling history. */
public record ExchangerMemory(ExchangerSides sides, FoulingDraw draw) {

    public static final ExchangerMemory EMPTY = new ExchangerMemory(ExchangerSides.NEW, FoulingDraw.NONE);

    public ExchangerMemory {
        Objects.requireNonNull(sides, "sides");
        Objects.requireNonNull(draw, "draw");
    }
}
