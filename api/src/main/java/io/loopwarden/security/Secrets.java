package io.loopwarden.security;

import com.password4j.Argon2Function;
import com.password4j.Password;
import com.password4j.types.Argon2;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.HexFormat;
import java.util.Optional;
import java.util.concurrent.Semaphore;

/** Random tokens and hashes. */
final class Secrets {

    /** Least of the settings that OWASP's Password Storage Cheat Sheet gives for Argon2id: 19 MiB, 2 passes, 1 lane. */
    private static final Argon2Function ARGON2 = Argon2Function.getInstance(19_456, 2, 1, 32, Argon2.ID);

    static final int SHORTEST_PASSWORD = 12;
    static final int LONGEST_PASSWORD = 200;
    private static final int TOKEN_BYTES = 32;
    private static final SecureRandom RANDOM = new SecureRandom();
    /** Hashing takes 19 MiB and a core: at most so many at once, so that a flood of sign-ins cannot take the machine. */
    private static final Semaphore HASHING = new Semaphore(2);

    private static final String NOBODYS_HASH = hashPassword(newToken());

    private Secrets() {}

    static String newToken() {
        byte[] bytes = new byte[TOKEN_BYTES];
        RANDOM.nextBytes(bytes);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    }

    /** For what is random and long; a password needs {@link #hashPassword}. */
    static String sha256Hex(String token) {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            return HexFormat.of().formatHex(digest.digest(token.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    static boolean same(String one, String other) {
        return MessageDigest.isEqual(one.getBytes(StandardCharsets.UTF_8), other.getBytes(StandardCharsets.UTF_8));
    }

    /** Argon2id with a salt of its own, in the usual form {@code $argon2id$v=19$m=…}. */
    static String hashPassword(String password) {
        HASHING.acquireUninterruptibly();
        try {
            return Password.hash(password).addRandomSalt(16).with(ARGON2).getResult();
        } finally {
            HASHING.release();
        }
    }

    /** Takes as long when there is no such person, so that names cannot be found out. */
    static boolean verify(String password, Optional<String> hash) {
        HASHING.acquireUninterruptibly();
        try {
            String stored = hash.orElse(NOBODYS_HASH);
            boolean right = Password.check(password, stored).with(Argon2Function.getInstanceFromHash(stored));
            return right && hash.isPresent();
        } finally {
            HASHING.release();
        }
    }

    /** What is wrong with a new password, in words. */
    static Optional<String> fault(String password, String name) {
        if (password.length() < SHORTEST_PASSWORD || password.length() > LONGEST_PASSWORD) {
            return Optional.of("the password has " + password.length() + " characters, must have " + SHORTEST_PASSWORD
                    + " to " + LONGEST_PASSWORD);
        }
        if (password.chars().distinct().count() < 5 || password.equalsIgnoreCase(name)) {
            return Optional.of(
                    "the password is too easy to guess: use several words, or let a password manager make one");
        }
        return Optional.empty();
    }
}
