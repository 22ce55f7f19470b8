package io.loopwarden.alarm;

/** What can happen to an alarm. */
public enum AlarmEvent {
    /** The condition is there, its on-delay is over. */
    OCCUR("condition occurs"),
    /** The condition is gone beyond the deadband, the off-delay is over. */
    CLEAR("condition clears"),
    ACKNOWLEDGE("acknowledge"),
    /** A person ends a latched alarm. */
    RESET("reset"),
    /** Still there long after it was acknowledged: it asks for attention again. */
    REALARM("re-alarm"),
    SHELVE("shelve"),
    /** A person takes it off the shelf, or its time there is over. */
    UNSHELVE("unshelve"),
    SUPPRESS("suppress by design"),
    UNSUPPRESS("end of suppression"),
    REMOVE("take out of service"),
    RETURN("return to service");

    private final String words;

    AlarmEvent(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    /** Whether only a person may cause it. */
    public boolean byPerson() {
        return switch (this) {
            case ACKNOWLEDGE, RESET, SHELVE, REMOVE, RETURN -> true;
            default -> false;
        };
    }
}
