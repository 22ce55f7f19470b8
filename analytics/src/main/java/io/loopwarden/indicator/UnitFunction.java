package io.loopwarden.indicator;

/** What a coolant distribution unit does for the racks; people look at a unit function by function. */
public enum UnitFunction {
    HEAT_TRANSFER("heat transfer"),
    FILTRATION("filtration"),
    PUMPING("pumping"),
    CONTAINMENT("containment"),
    CONTROL("control"),
    INSTRUMENTS("instruments"),
    COOLANT("coolant");

    private final String words;

    UnitFunction(String words) {
        this.words = words;
    }

    /** The name as people read it. */
    public String words() {
        return words;
    }
}
