package io.loopwarden.rest;

import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;

/** A span of time that a request asks for. */
record Span(Instant from, Instant to) {

    /** @param usual length where only the end, or nothing, is given */
    static Span of(String from, String to, Instant now, Duration usual, Duration longest) {
        Instant end = to == null ? now : instant("to", to);
        Instant begin = from == null ? end.minus(usual) : instant("from", from);
        if (!begin.isBefore(end)) {
            throw Problem.badRequest("'from' " + begin + " is not before 'to' " + end);
        }
        if (Duration.between(begin, end).compareTo(longest) > 0) {
            throw Problem.badRequest("the span is longer than " + longest.toDays() + " days");
        }
        return new Span(begin, end);
    }

    static Instant instant(String field, String text) {
        try {
            return OffsetDateTime.parse(text).toInstant();
        } catch (DateTimeException e) {
            throw Problem.badRequest("'" + field + "' is '" + text + "', no time such as 2026-11-25T12:00:00Z");
        }
    }
}
