package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.alarm.AlarmId;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import org.junit.jupiter.api.Test;

class AckLinksTest {

    private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");
    private static final AlarmId WET = new AlarmId("E-07", "tray-wet");

    private final AckLinks links = new AckLinks(new byte[32], Duration.ofHours(24));
    private final String key = links.key(WET, "one", "ines", NOON);

    @Test
    void aKeyAllowsOneAlarmUntilItExpires() {
        assertThat(links.read(key, NOON.plus(Duration.ofHours(24)).minusSeconds(1)))
                .hasValueSatisfying(grant -> {
                    assertThat(grant.alarm()).isEqualTo(WET);
                    assertThat(grant.incident()).isEqualTo("one");
                    assertThat(grant.person()).isEqualTo("ines");
                });
        assertThat(links.read(key, NOON.plus(Duration.ofHours(24)))).isEmpty();
    }

    @Test
    void aChangedKeyAllowsNothing() {
        String[] parts = key.split("\\.");
        String other =
                new String(Base64.getUrlDecoder().decode(parts[0]), StandardCharsets.UTF_8).replace("E-07", "E-08");
        String forged = Base64.getUrlEncoder().withoutPadding().encodeToString(other.getBytes(StandardCharsets.UTF_8));
        assertThat(links.read(forged + "." + parts[1], NOON)).isEmpty();
        for (int i = 0; i < key.length(); i++) {
            char changed = key.charAt(i) == 'A' ? 'B' : 'A';
            String broken = key.substring(0, i) + changed + key.substring(i + 1);
            // The last characters of each part hold bits that Base64 leaves unused.
            boolean unusedBits = i == parts[0].length() - 1 || i == key.length() - 1;
            if (!unusedBits) {
                assertThat(links.read(broken, NOON)).as(broken).isEmpty();
            }
        }
        assertThat(links.read("", NOON)).isEmpty();
        assertThat(links.read("a.b.c", NOON)).isEmpty();
        assertThat(new AckLinks(
                                "another secret, of 32 bytes or more".getBytes(StandardCharsets.UTF_8),
                                Duration.ofHours(24))
                        .read(key, NOON))
                .as("another secret")
                .isEmpty();
    }
}
