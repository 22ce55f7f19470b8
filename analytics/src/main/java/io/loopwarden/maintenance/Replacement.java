package io.loopwarden.maintenance;

import java.util.Objects;

/** The new part of a replacement; empty text where not known. */
public record Replacement(String serial, String supplier, String model) {

    public Replacement {
        Objects.requireNonNull(serial, "serial");
        Objects.requireNonNull(supplier, "supplier");
        Objects.requireNonNull(model, "model");
    }
}
