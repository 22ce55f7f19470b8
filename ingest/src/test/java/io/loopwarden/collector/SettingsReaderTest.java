package io.loopwarden.collector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.net.URI;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class SettingsReaderTest {

    private enum Mode {
        NONE,
        SIGN_AND_ENCRYPT
    }

    @Test
    void defaultsHoldWhereNothingIsSet() {
        SettingsReader reader = reader(Map.of());
        assertThat(reader.duration("wait", Duration.ofSeconds(3), Duration.ZERO, Duration.ofHours(1)))
                .isEqualTo(Duration.ofSeconds(3));
        assertThat(reader.integer("size", 10, 1, 100)).isEqualTo(10);
        assertThat(reader.flag("on", true)).isTrue();
        assertThat(reader.choice("mode", Mode.NONE)).isEqualTo(Mode.NONE);
        assertThat(reader.text("name")).isEmpty();
        reader.finish();
    }

    @Test
    void valuesAreRead() {
        SettingsReader reader =
                reader(Map.of("wait", "PT0.25S", "size", "7", "on", "false", "mode", "sign-and-encrypt", "a.b", "x"));
        assertThat(reader.duration("wait", Duration.ofSeconds(3), Duration.ZERO, Duration.ofHours(1)))
                .isEqualTo(Duration.ofMillis(250));
        assertThat(reader.integer("size", 10, 1, 100)).isEqualTo(7);
        assertThat(reader.flag("on", true)).isFalse();
        assertThat(reader.choice("mode", Mode.NONE)).isEqualTo(Mode.SIGN_AND_ENCRYPT);
        assertThat(reader.namesFrom("a.")).containsExactly("a.b");
        assertThat(reader.text("a.b")).contains("x");
        reader.finish();
    }

    @Test
    void everyFaultIsToldAtOnceWithNameValueAndLimit() {
        SettingsReader reader = reader(
                Map.of("wait", "2 s", "long", "PT2H", "size", "0", "on", "yes", "mode", "encrypt", "typo-here", "1"));
        reader.duration("wait", Duration.ofSeconds(3), Duration.ZERO, Duration.ofHours(1));
        reader.duration("long", Duration.ofSeconds(3), Duration.ZERO, Duration.ofHours(1));
        reader.integer("size", 10, 1, 100);
        reader.flag("on", true);
        reader.choice("mode", Mode.NONE);
        ConfigurationException thrown = catchThrowableOfType(ConfigurationException.class, reader::finish);
        assertThat(thrown.faults())
                .hasSize(6)
                .allSatisfy(fault -> assertThat(fault).startsWith("connection 'east-gateway': "))
                .anySatisfy(fault -> assertThat(fault).contains("'wait'", "'2 s'", "PT0.5S"))
                .anySatisfy(fault -> assertThat(fault).contains("'long'", "'PT2H'", "PT1H"))
                .anySatisfy(fault -> assertThat(fault).contains("'size'", "'0'", "1 to 100"))
                .anySatisfy(fault -> assertThat(fault).contains("'on'", "'yes'", "true or false"))
                .anySatisfy(fault -> assertThat(fault).contains("'mode'", "'encrypt'", "none, sign-and-encrypt"))
                .anySatisfy(fault -> assertThat(fault).contains("unknown setting 'typo-here'"));
    }

    @Test
    void faultsOfTheCallerCountToo() {
        SettingsReader reader = reader(Map.of());
        reader.fault("user-name without a password");
        assertThatThrownBy(reader::finish)
                .isInstanceOf(ConfigurationException.class)
                .hasMessage("connection 'east-gateway': user-name without a password");
    }

    private static SettingsReader reader(Map<String, String> settings) {
        return new SettingsReader(
                new Connection("east-gateway", "opc-ua", URI.create("opc.tcp://127.0.0.1:4840"), settings, List.of()));
    }
}
