package io.loopwarden.bench;

import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * What a benchmark is asked for.
 *
 * @param size how much of it
 * @param minutes how long live push is watched
 * @param fleet units in the rows of the whole service, instead of a thousand
 * @param root the repository
 * @param timescale JDBC address of a server with TimescaleDB, for the stored bytes
 */
record Wanted(Size size, double minutes, OptionalInt fleet, Path root, Optional<String> timescale) {

    /** How much is measured. */
    enum Size {
        /** Only shows that it runs. */
        TINY,
        QUICK,
        FULL;

        int of(int tiny, int quick, int full) {
            return switch (this) {
                case TINY -> tiny;
                case QUICK -> quick;
                case FULL -> full;
            };
        }
    }

    int of(int tiny, int quick, int full) {
        return size.of(tiny, quick, full);
    }

    int units() {
        return fleet.orElse(1000);
    }
}
