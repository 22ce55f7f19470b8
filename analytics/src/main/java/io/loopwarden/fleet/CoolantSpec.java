package io.loopwarden.fleet;

import java.util.Objects;

/**
 * What fills a loop.
 *
 * @param glycolMassFraction mass of propylene glycol over mass of mixture, 0 to 0.6; 0 for water
 */
public record CoolantSpec(Kind kind, double glycolMassFraction) {

    public enum Kind {
        WATER,
        PROPYLENE_GLYCOL
    }

    public static final CoolantSpec WATER = new CoolantSpec(Kind.WATER, 0);

    public CoolantSpec {
        Objects.requireNonNull(kind, "kind");
        boolean inRange =
                kind == Kind.WATER ? glycolMassFraction == 0 : glycolMassFraction >= 0.1 && glycolMassFraction <= 0.6;
        if (!inRange) {
            throw new IllegalArgumentException("glycol mass fraction " + glycolMassFraction + " does not fit " + kind
                    + ": 0 for water, 0.1 to 0.6 for propylene glycol");
        }
    }
}
