package io.loopwarden.inventory;

/** What a change of a loop's content may be. */
public enum LeakClass {
    SEEP("external seep"),
    BURST("burst"),
    INTO_FWS("leak into the facility water"),
    FROM_FWS("leak from the facility water"),
    SENSOR("sensor artefact"),
    STAFF("drain or top-up by staff");

    private final String words;

    LeakClass(String words) {
        this.words = words;
    }

    /** The name as people read it. */
    public String words() {
        return words;
    }

    public boolean isLeak() {
        return this != SENSOR && this != STAFF;
    }
}
