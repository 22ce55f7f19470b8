package io.loopwarden.rest;

/** Checks of what was sent. */
final class Require {

    private Require() {}

    static void present(String field, Object value) {
        if (value == null) {
            throw Problem.badRequest("'" + field + "' is missing");
        }
    }
}
