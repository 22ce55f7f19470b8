package io.loopwarden.mqtt;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Where the password lies. Holds the place, never the password: it is read at each connect, so that a changed one is taken up.
 *
 * @param variable name of an environment variable, or empty
 * @param file a file with the password and nothing else but an optional line end, or empty
 */
record Password(Optional<String> variable, Optional<Path> file) {

    /** Empty if no password is configured. */
    Optional<String> read() throws IOException {
        if (variable.isPresent()) {
            String value = System.getenv(variable.get());
            if (value == null) {
                throw new IOException("environment variable " + variable.get() + " is not set");
            }
            return Optional.of(value);
        }
        if (file.isPresent()) {
            return Optional.of(
                    Files.readString(file.get(), StandardCharsets.UTF_8).stripTrailing());
        }
        return Optional.empty();
    }
}
