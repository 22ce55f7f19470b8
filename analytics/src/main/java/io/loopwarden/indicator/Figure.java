package io.loopwarden.indicator;

/** An indicator that is called, sorted and based as its class says once. */
abstract class Figure implements Indicator {

    private final String key;
    private final UnitFunction function;
    private final String unit;
    private final Basis basis;

    Figure(String key, UnitFunction function, String unit, Basis basis) {
        this.key = key;
        this.function = function;
        this.unit = unit;
        this.basis = basis;
    }

    @Override
    public final String key() {
        return key;
    }

    @Override
    public final UnitFunction function() {
        return function;
    }

    @Override
    public final String unit() {
        return unit;
    }

    @Override
    public final Basis basis() {
        return basis;
    }
}
