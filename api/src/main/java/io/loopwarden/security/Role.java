package io.loopwarden.security;

import java.util.Locale;
import java.util.Optional;

/** What somebody may do; each role includes those before it. */
public enum Role {
    /** Not signed in: signing in, help, and whether the service is well. */
    ANYONE,
    /** Looks. */
    VIEWER,
    /** Runs the plant: acknowledges alarms, writes down what was done. */
    OPERATOR,
    /** Changes what is judged and how: limits, definitions, calibrations. */
    ENGINEER,
    /** Lets people in and reads the audit trail. */
    ADMINISTRATOR;

    public boolean includes(Role least) {
        return compareTo(least) >= 0;
    }

    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** A role that a person or key can have. */
    public static Optional<Role> given(String word) {
        for (Role role : values()) {
            if (role != ANYONE && role.word().equals(word)) {
                return Optional.of(role);
            }
        }
        return Optional.empty();
    }
}
