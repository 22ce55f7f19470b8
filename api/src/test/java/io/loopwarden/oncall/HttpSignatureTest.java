package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;

class HttpSignatureTest {

    /** RFC 9421, B.2.5: signing a request using hmac-sha256, with the shared secret of B.1.5. */
    @Test
    void theExampleOfTheStandardComesOut() {
        byte[] secret = Base64.getDecoder()
                .decode("uzvJfB4u3N0Jy4T7NZ75MDVcr8zSTInedJtkgcu46YW4XByzNJjxBdtjUkdJPBtbmHhIDi6pcl8jsasjlTMtDQ==");
        Map<String, String> covered = new LinkedHashMap<>();
        covered.put("date", "Tue, 20 Apr 2021 02:07:55 GMT");
        covered.put("@authority", "example.com");
        covered.put("content-type", "application/json");
        String parameters = HttpSignature.parameters(covered, ";created=1618884473;keyid=\"test-shared-secret\"");

        byte[] signature = HttpSignature.sign(HttpSignature.base(covered, parameters), secret);

        assertThat(Base64.getEncoder().encodeToString(signature))
                .isEqualTo("pxcQw6G3AjtMBQjwo8XzkZf/bws5LelbaMk5rGIGtE8=");
    }
}
