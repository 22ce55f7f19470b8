package io.loopwarden.security;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;

class SecretsTest {

    @Test
    void aPasswordIsKeptAsArgon2idWithItsOwnSalt() {
        String one = Secrets.hashPassword("three words here");
        String other = Secrets.hashPassword("three words here");
        assertThat(one).startsWith("$argon2id$v=19$m=19456,t=2,p=1$").isNotEqualTo(other);
        assertThat(Secrets.verify("three words here", Optional.of(one))).isTrue();
        assertThat(Secrets.verify("three words her", Optional.of(one))).isFalse();
        assertThat(Secrets.verify("three words here", Optional.empty())).isFalse();
    }

    @Test
    void whatIsEasyToGuessIsRefused() {
        assertThat(Secrets.fault("short", "mara")).isPresent();
        assertThat(Secrets.fault("aaaaaaaaaaaaaaa", "mara")).isPresent();
        assertThat(Secrets.fault("mara.of.the.west", "mara.of.the.west")).isPresent();
        assertThat(Secrets.fault("x".repeat(201), "mara")).isPresent();
        assertThat(Secrets.fault("three words here", "mara")).isEmpty();
    }

    @Test
    void tokensAreLongAndDiffer() {
        assertThat(Secrets.newToken()).hasSize(43).isNotEqualTo(Secrets.newToken());
    }
}
