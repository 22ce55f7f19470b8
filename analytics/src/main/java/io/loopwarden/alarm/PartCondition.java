package io.loopwarden.alarm;

import java.util.Objects;

/**
 * A connection, or a part of the service itself, that fails.
 *
 * @param part {@code connection}, or a part of the service such as {@code store}
 */
public record PartCondition(String part) implements Condition {

    public static final String CONNECTION = "connection";

    public PartCondition {
        Objects.requireNonNull(part, "part");
    }

    @Override
    public boolean concerns(Facts facts) {
        return facts instanceof Facts.OfPart
                && (part.equals(CONNECTION)
                        ? facts.source().startsWith(AlarmId.connection(""))
                        : facts.source().equals(AlarmId.service(part)));
    }

    @Override
    public Verdict judge(Facts facts) {
        Facts.OfPart part = (Facts.OfPart) facts;
        return new Verdict(part.bad() ? Verdict.Kind.BEYOND : Verdict.Kind.GOOD, part.sentence());
    }

    @Override
    public String words() {
        return part.equals(CONNECTION) ? "a connection is lost" : "the " + part + " fails";
    }
}
