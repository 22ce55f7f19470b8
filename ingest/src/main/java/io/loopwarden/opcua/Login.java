package io.loopwarden.opcua;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;
import java.util.Optional;

/** A user name, and where its password is kept: never the password itself. Exactly one place is given. */
record Login(String userName, Optional<String> passwordVariable, Optional<Path> passwordFile) {

    Login {
        Objects.requireNonNull(userName, "userName");
        if (passwordVariable.isPresent() == passwordFile.isPresent()) {
            throw new IllegalArgumentException("one place for the password of user '" + userName + "'");
        }
    }

    /**
     * Reads the password anew at each log-in, so that a changed one needs no restart; a file's final line end is not
     * part of it.
     */
    byte[] password() throws IOException {
        if (passwordFile.isPresent()) {
            return Files.readString(passwordFile.get())
                    .replaceFirst("\\r?\\n\\z", "")
                    .getBytes(StandardCharsets.UTF_8);
        }
        String name = passwordVariable.orElseThrow();
        String value = System.getenv(name);
        if (value == null) {
            throw new IOException(
                    "environment variable " + name + " with the password of user '" + userName + "' is not set");
        }
        return value.getBytes(StandardCharsets.UTF_8);
    }
}
