package io.loopwarden.oncall;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Collectors;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * Signs a request with HTTP Message Signatures (RFC 9421, algorithm hmac-sha256, section 3.3.3) over method, address and the digest of
 * its body (RFC 9530), so that the receiver can tell that it is ours and unchanged.
 */
final class HttpSignature {

    private static final String LABEL = "loopwarden";

    private HttpSignature() {}

    /** The headers to add. */
    static Map<String, String> headers(String method, URI target, byte[] body, String keyId, byte[] key, Instant at) {
        String digest = "sha-256=:" + base64(sha256(body)) + ":";
        Map<String, String> covered = new LinkedHashMap<>();
        covered.put("@method", method);
        covered.put("@target-uri", target.toString());
        covered.put("content-digest", digest);
        String parameters =
                parameters(covered, ";created=" + at.getEpochSecond() + ";keyid=\"" + keyId + "\";alg=\"hmac-sha256\"");
        return Map.of(
                "Content-Digest", digest,
                "Signature-Input", LABEL + "=" + parameters,
                "Signature", LABEL + "=:" + base64(sign(base(covered, parameters), key)) + ":");
    }

    /** The inner list of covered components with its parameters (section 2.3). */
    static String parameters(Map<String, String> covered, String parameters) {
        return covered.keySet().stream().map(name -> "\"" + name + "\"").collect(Collectors.joining(" ", "(", ")"))
                + parameters;
    }

    /** The signature base (section 2.5). */
    static String base(Map<String, String> covered, String parameters) {
        return covered.entrySet().stream()
                        .map(entry -> "\"" + entry.getKey() + "\": " + entry.getValue() + "\n")
                        .collect(Collectors.joining())
                + "\"@signature-params\": " + parameters;
    }

    static byte[] sign(String base, byte[] key) {
        try {
            Mac mac = Mac.getInstance("HmacSHA256");
            mac.init(new SecretKeySpec(key, "HmacSHA256"));
            return mac.doFinal(base.getBytes(StandardCharsets.UTF_8));
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("this Java has no HmacSHA256", e);
        }
    }

    private static byte[] sha256(byte[] body) {
        try {
            return MessageDigest.getInstance("SHA-256").digest(body);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("this Java has no SHA-256", e);
        }
    }

    private static String base64(byte[] bytes) {
        return Base64.getEncoder().encodeToString(bytes);
    }
}
