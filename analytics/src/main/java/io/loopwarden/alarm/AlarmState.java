package io.loopwarden.alarm;

/** The states of an alarm in IEC 62682 (and ISA-18.2), in the order of their letters there, A to I. */
public enum AlarmState {
    NORMAL('A', "normal"),
    UNACKNOWLEDGED('B', "unacknowledged"),
    ACKNOWLEDGED('C', "acknowledged"),
    RETURNED_UNACKNOWLEDGED('D', "returned, unacknowledged"),
    LATCHED_UNACKNOWLEDGED('E', "latched, unacknowledged"),
    LATCHED_ACKNOWLEDGED('F', "latched, acknowledged"),
    SHELVED('G', "shelved"),
    SUPPRESSED_BY_DESIGN('H', "suppressed by design"),
    OUT_OF_SERVICE('I', "out of service");

    private final char letter;
    private final String words;

    AlarmState(char letter, String words) {
        this.letter = letter;
        this.words = words;
    }

    public char letter() {
        return letter;
    }

    /** The name as people read it. */
    public String words() {
        return words;
    }

    /** Whether it stands in the alarm list: annunciated and not yet over for everybody. */
    public boolean stands() {
        return this != NORMAL && !inhibited();
    }

    /** Whether somebody still has to acknowledge it. */
    public boolean awaitsAcknowledgement() {
        return this == UNACKNOWLEDGED || this == RETURNED_UNACKNOWLEDGED || this == LATCHED_UNACKNOWLEDGED;
    }

    /** Whether it is kept from people: shelved, suppressed by design or out of service. */
    public boolean inhibited() {
        return this == SHELVED || this == SUPPRESSED_BY_DESIGN || this == OUT_OF_SERVICE;
    }
}
