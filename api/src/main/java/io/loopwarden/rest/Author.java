package io.loopwarden.rest;

import jakarta.ws.rs.core.SecurityContext;

/** Whose name stands beside what is written. */
final class Author {

    private static final String UNSIGNED = "unsigned";

    private Author() {}

    static String of(SecurityContext security) {
        return security.getUserPrincipal() == null
                        || security.getUserPrincipal().getName().isBlank()
                ? UNSIGNED
                : security.getUserPrincipal().getName();
    }
}
