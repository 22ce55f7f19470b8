package io.loopwarden.oncall;

import io.loopwarden.alarm.AlarmId;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.Optional;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * The key in a message's link: whoever holds it may acknowledge one alarm of one incident, in the name of the person it was sent to,
 * until it expires.
 */
public final class AckLinks {

    private static final String ALGORITHM = "HmacSHA256";
    private static final String PURPOSE = "acknowledge-1";

    /** What a good key allows. */
    public record Grant(AlarmId alarm, String incident, String person, Instant until) {}

    private final byte[] secret;
    private final Duration validity;

    /** @param secret at least 32 bytes */
    public AckLinks(byte[] secret, Duration validity) {
        if (secret.length < 32) {
            throw new IllegalArgumentException("the key of acknowledge links has " + secret.length + " bytes, not 32");
        }
        this.secret = secret.clone();
        this.validity = validity;
    }

    public String key(AlarmId alarm, String incident, String person, Instant at) {
        long until = at.plus(validity).getEpochSecond();
        String grant = String.join("\n", alarm.toString(), incident, person, Long.toString(until));
        byte[] bytes = grant.getBytes(StandardCharsets.UTF_8);
        return text(bytes) + "." + text(signature(bytes));
    }

    /** What the key allows at an instant; empty if it is not ours, was changed, or is over. */
    public Optional<Grant> read(String key, Instant at) {
        int dot = key.indexOf('.');
        if (dot < 0 || key.length() > 2000) {
            return Optional.empty();
        }
        try {
            byte[] grant = Base64.getUrlDecoder().decode(key.substring(0, dot));
            byte[] given = Base64.getUrlDecoder().decode(key.substring(dot + 1));
            if (!MessageDigest.isEqual(given, signature(grant))) {
                return Optional.empty();
            }
            String[] parts = new String(grant, StandardCharsets.UTF_8).split("\n");
            Instant until = Instant.ofEpochSecond(Long.parseLong(parts[3]));
            return until.isAfter(at)
                    ? Optional.of(new Grant(AlarmId.parse(parts[0]), parts[1], parts[2], until))
                    : Optional.empty();
        } catch (IllegalArgumentException notBase64) {
            return Optional.empty();
        }
    }

    private byte[] signature(byte[] grant) {
        try {
            Mac mac = Mac.getInstance(ALGORITHM);
            mac.init(new SecretKeySpec(secret, ALGORITHM));
            mac.update((PURPOSE + "\n").getBytes(StandardCharsets.UTF_8));
            return mac.doFinal(grant);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("this Java has no " + ALGORITHM, e);
        }
    }

    private static String text(byte[] bytes) {
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    }
}
