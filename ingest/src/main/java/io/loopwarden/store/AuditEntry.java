package io.loopwarden.store;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HexFormat;
import java.util.Objects;

/**
 * One line of the audit trail. Its hash covers the entry and the hash of the entry before it.
 *
 * @param number counts from 1 without gaps
 * @param at to the microsecond, as the database keeps it
 * @param action what was done, for example {@code PUT /api/v1/people/{name}}
 * @param subject what it was done to
 * @param detail what was asked for; never a secret
 */
public record AuditEntry(
        long number, Instant at, String who, String action, String subject, String detail, String previousHash) {

    /** What stands before the first entry. */
    public static final String BEGINNING = "0".repeat(64);

    public AuditEntry {
        at = at.truncatedTo(ChronoUnit.MICROS);
        Objects.requireNonNull(who, "who");
        Objects.requireNonNull(action, "action");
        Objects.requireNonNull(subject, "subject");
        Objects.requireNonNull(detail, "detail");
        Objects.requireNonNull(previousHash, "previousHash");
    }

    /** SHA-256 over previous hash, number, time in microseconds and the four texts, each text after its length. */
    public String hash() {
        MessageDigest digest = sha256();
        digest.update(HexFormat.of().parseHex(previousHash));
        digest.update(ByteBuffer.allocate(16).putLong(number).putLong(micros()).array());
        for (String text : new String[] {who, action, subject, detail}) {
            byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
            digest.update(ByteBuffer.allocate(4).putInt(bytes.length).array());
            digest.update(bytes);
        }
        return HexFormat.of().formatHex(digest.digest());
    }

    private long micros() {
        return ChronoUnit.MICROS.between(Instant.EPOCH, at);
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }
}
