package io.loopwarden.security;

import io.loopwarden.store.PersonRow;
import java.time.Instant;
import java.util.Optional;

/** Somebody who may sign in. */
record Person(
        String name,
        Role role,
        boolean active,
        Optional<String> passwordHash,
        Optional<PersonRow.TokenRow> token,
        Instant createdAt,
        String createdBy) {

    static Person of(PersonRow row) {
        return new Person(
                row.name(),
                Role.given(row.role())
                        .orElseThrow(() -> new IllegalStateException(
                                "person " + row.name() + " has the role '" + row.role() + "', which does not exist")),
                row.active(),
                row.passwordHash(),
                row.token(),
                row.createdAt(),
                row.createdBy());
    }

    PersonRow row() {
        return new PersonRow(name, role.word(), active, passwordHash, token, createdAt, createdBy);
    }

    Person with(Role newRole, boolean nowActive) {
        return new Person(name, newRole, nowActive, passwordHash, token, createdAt, createdBy);
    }

    /** A token is used up by choosing a password. */
    Person withPassword(String hash) {
        return new Person(name, role, active, Optional.of(hash), Optional.empty(), createdAt, createdBy);
    }

    Person withToken(PersonRow.TokenRow fresh) {
        return new Person(name, role, active, Optional.empty(), Optional.of(fresh), createdAt, createdBy);
    }

    boolean canSignIn() {
        return active && passwordHash.isPresent();
    }
}
