package io.loopwarden.oncall;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;

/** A secret that the service makes for itself once and keeps in a file that only it can read. */
public final class SecretFile {

    private static final int BYTES = 32;

    private SecretFile() {}

    public static byte[] readOrMake(Path file) throws IOException {
        if (Files.exists(file)) {
            byte[] secret = Files.readAllBytes(file);
            if (secret.length != BYTES) {
                throw new IOException(
                        file + " has " + secret.length + " bytes, not " + BYTES + "; remove it to have it made anew");
            }
            return secret;
        }
        byte[] secret = new byte[BYTES];
        new SecureRandom().nextBytes(secret);
        Files.createDirectories(file.toAbsolutePath().getParent());
        Path fresh = Files.createTempFile(
                file.toAbsolutePath().getParent(),
                file.getFileName().toString(),
                ".new",
                PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
        Files.write(fresh, secret);
        Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE);
        return secret;
    }
}
