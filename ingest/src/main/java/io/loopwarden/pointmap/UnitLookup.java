package io.loopwarden.pointmap;

import io.loopwarden.fleet.Conversion;
import java.util.Objects;
import java.util.Optional;

/** What is known about a unit code for a certain quantity. */
public sealed interface UnitLookup {

    /** The code can be used; {@code conversion} leads to the inner unit. */
    record Known(Conversion conversion) implements UnitLookup {
        public Known {
            Objects.requireNonNull(conversion, "conversion");
        }
    }

    /** The code is no unit, or one of another quantity; {@code message} says which, and what to write. */
    record Refused(String message) implements UnitLookup {
        public Refused {
            Objects.requireNonNull(message, "message");
        }
    }

    default Optional<Conversion> known() {
        return this instanceof Known known ? Optional.of(known.conversion()) : Optional.empty();
    }
}
