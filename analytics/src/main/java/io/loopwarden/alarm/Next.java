package io.loopwarden.alarm;

/** What an event did to an alarm. */
public sealed interface Next {

    record Changed(Alarm alarm, Transition transition) implements Next {}

    /** Nothing to do, nothing to keep. */
    record Same() implements Next {}

    /** @param reason one sentence for the person who asked */
    record Refused(String reason) implements Next {}
}
