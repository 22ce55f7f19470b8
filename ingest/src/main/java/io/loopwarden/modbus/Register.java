package io.loopwarden.modbus;

import io.loopwarden.pointmap.RegisterLayout;
import java.util.Objects;

/** One value to read: the tag it is handed on under, and where it lies. */
record Register(String source, RegisterLayout layout) {

    Register {
        Objects.requireNonNull(source, "source");
        Objects.requireNonNull(layout, "layout");
    }
}
