package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import io.loopwarden.collector.ConfigurationException;
import io.loopwarden.collector.Connection;
import java.net.URI;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ModbusSettingsTest {

    @Test
    void defaultsAreTheProtocolsLimits() {
        ModbusSettings settings = TestMaps.settings();
        assertThat(settings.pollInterval()).isEqualTo(Duration.ofSeconds(1));
        assertThat(settings.maxRegisters()).isEqualTo(125);
        assertThat(settings.maxBits()).isEqualTo(2000);
    }

    @Test
    void everyFaultIsToldAtOnce() {
        var map = TestMaps.map("point: tcs.flow, source: holding/0, type: int16, unit: L/s");
        Connection connection = TestMaps.connection(
                URI.create("http://127.0.0.1"),
                List.of(
                        TestMaps.served("W-01", "1", map),
                        TestMaps.served("W-02", "01", map),
                        TestMaps.served("W-03", "256", map)),
                "poll-interval",
                "1s",
                "max-registers",
                "126",
                "retrys",
                "3",
                "reconnect-longest",
                "PT0.1S");
        ConfigurationException refused =
                catchThrowableOfType(ConfigurationException.class, () -> ModbusSettings.from(connection));
        assertThat(refused.faults())
                .hasSize(7)
                .allSatisfy(fault -> assertThat(fault).startsWith("connection 'line': "));
        assertThat(String.join("\n", refused.faults()))
                .contains(
                        "setting 'poll-interval' is '1s', is not an ISO 8601 duration",
                        "setting 'max-registers' is '126', must be a whole number, 4 to 125",
                        "setting 'reconnect-longest' is 'PT0.1S', must not be shorter than reconnect-first, PT0.5S",
                        "unknown setting 'retrys'",
                        "endpoint 'http://127.0.0.1' is not modbus://host:port",
                        "units W-01 and W-02 are both Modbus unit 1",
                        "unit W-03 has name at source '256', which is no Modbus unit number, 0 to 255");
    }

    @ParameterizedTest
    @CsvSource({"0,0", "255,255", "256,-1", "-1,-1", "7a,-1", "0007,-1", "'',-1"})
    void unitNumberIsOneByte(String text, int number) {
        assertThat(ModbusSettings.unitNumber(text)).isEqualTo(number);
    }
}
