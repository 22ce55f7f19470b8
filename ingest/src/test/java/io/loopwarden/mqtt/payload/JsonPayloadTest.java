package io.loopwarden.mqtt.payload;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class JsonPayloadTest {

    @Test
    void theDocumentedExampleIsRead() {
        JsonPayload.Message message = message("""
                {"unit":"CDU03","time":"2026-11-25T08:00:00.250Z",
                 "values":{"T_TCS_SUP":31.42,"P1_RUN":true,"E_TOTAL":9007199254740993,
                           "F_FWS":{"value":412.5,"time":1795593600100,"quality":"uncertain","unit":"[gal_us]/min"},
                           "LVL_RES":null}}""");
        assertThat(message.unit()).isEqualTo("CDU03");
        assertThat(message.time()).isEqualTo("2026-11-25T08:00:00.250Z");
        assertThat(message.refusals()).isEmpty();
        assertThat(message.values())
                .containsExactly(
                        good("T_TCS_SUP", RawValue.of(31.42)),
                        good("P1_RUN", RawValue.of(1)),
                        good("E_TOTAL", RawValue.of(9007199254740993L)),
                        new JsonPayload.Value(
                                "F_FWS",
                                Instant.parse("2026-11-25T08:00:00.100Z"),
                                RawValue.of(412.5),
                                new Quality(Level.UNCERTAIN, 0),
                                "[gal_us]/min"),
                        new JsonPayload.Value("LVL_RES", null, RawValue.NONE, new Quality(Level.BAD, 0), null));
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(delimiter = '|', textBlock = """
            9223372036854775807          | whole   | 9223372036854775807
            -9223372036854775808         | whole   | -9223372036854775808
            18446744073709551615         | whole   | -1
            0                            | whole   | 0
            false                        | whole   | 0
            1.0                          | decimal | 1.0
            1e3                          | decimal | 1000.0
            -0.0                         | decimal | -0.0
            0.1234567890123456789012345  | decimal | 0.12345678901234568
            4.9e-324                     | decimal | 4.9E-324
            """)
    void numbersKeepTheirKindAndDigits(String json, String kind, String expected) {
        RawValue value =
                message("{\"values\":{\"T\":" + json + "}}").values().get(0).value();
        assertThat(value)
                .isEqualTo(
                        kind.equals("whole")
                                ? RawValue.of(Long.parseLong(expected))
                                : RawValue.of(Double.parseDouble(expected)));
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(delimiter = '|', textBlock = """
            NaN                                | NOT_A_NUMBER
            -Infinity                          | NOT_A_NUMBER
            "NaN"                              | NOT_A_NUMBER
            1e400                              | NOT_A_NUMBER
            "31.4"                             | WRONG_TYPE
            ""                                 | WRONG_TYPE
            [1,2]                              | WRONG_TYPE
            {"value":{"deep":[1]}}             | WRONG_TYPE
            18446744073709551616               | WRONG_TYPE
            -9223372036854775809               | WRONG_TYPE
            {"value":1,"quality":"fine"}       | MALFORMED
            {"value":1,"quality":192}          | MALFORMED
            {"value":1,"code":-1}              | MALFORMED
            {"value":1,"code":4294967296}      | MALFORMED
            {"value":1,"time":"yesterday"}     | MALFORMED
            {"value":1,"time":1.5}             | MALFORMED
            {"value":1,"time":99999999999999999999} | MALFORMED
            {"value":1,"unit":5}               | UNKNOWN_UNIT_OF_MEASURE
            """)
    void oneBadValueSpoilsNoOther(String json, RejectReason reason) {
        JsonPayload.Message message = message("{\"values\":{\"A\":1,\"BAD\":" + json + ",\"Z\":2}}");
        assertThat(message.values()).extracting(JsonPayload.Value::tag).containsExactly("A", "Z");
        assertThat(message.refusals()).singleElement().satisfies(refusal -> {
            assertThat(refusal.reason()).isEqualTo(reason);
            assertThat(refusal.detail()).contains("'BAD'");
        });
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"values\":{\"T\":31.4",
                "{\"values\":{\"T\":31.4}",
                "{\"values\":{\"T\":{\"value\":1}",
                "{\"values\":{\"T\":}}",
                "{\"values\":[1]}",
                "{\"time\":\"2026-11-25T08:00:00Z\"}",
                "{\"unit\":7,\"values\":{}}",
                "{\"time\":\"soon\",\"values\":{\"T\":1}}",
                "{\"values\":{\"T\":1}} {}",
                "[]",
                "31.4",
                "not json",
                "\u0000",
            })
    void whatIsNotTheFormIsMalformed(String text) {
        assertThat(refused(text.getBytes(StandardCharsets.UTF_8)).reason()).isEqualTo(RejectReason.MALFORMED);
    }

    @Test
    void deepNestingIsRefusedAndNotFollowed() {
        String deep = "[".repeat(50_000);
        assertThat(refused(("{\"x\":" + deep).getBytes(StandardCharsets.UTF_8)).reason())
                .isEqualTo(RejectReason.MALFORMED);
    }

    @Test
    void tooManyValuesAreRefused() {
        String values = "\"\":0,".repeat(JsonMessageReader.MAX_VALUES) + "\"\":0";
        Refusal refusal = refused(("{\"values\":{" + values + "}}").getBytes(StandardCharsets.UTF_8));
        assertThat(refusal.detail()).contains("more than " + JsonMessageReader.MAX_VALUES + " values");
    }

    @Test
    void tooLargeIsNotEvenLookedAt() {
        Refusal refusal = ((JsonPayload.Refused) JsonPayload.parse(new byte[101], 100)).refusal();
        assertThat(refusal).isEqualTo(new Refusal(RejectReason.PAYLOAD_TOO_LARGE, "payload of 101 bytes, limit 100"));
    }

    @Test
    void otherKeysAreSkippedAndOrderDoesNotMatter() {
        JsonPayload.Message message = message("""
                {"meta":{"a":[1,{"b":2}]},"values":{"T":{"note":[1],"value":5,"code":17,"quality":"bad"}},
                 "time":1795593600100,"unit":null}""");
        assertThat(message.unit()).isNull();
        assertThat(message.time()).isEqualTo("2026-11-25T08:00:00.100Z");
        assertThat(message.values())
                .containsExactly(new JsonPayload.Value("T", null, RawValue.of(5), new Quality(Level.BAD, 17), null));
    }

    private static JsonPayload.Value good(String tag, RawValue value) {
        return new JsonPayload.Value(tag, null, value, Quality.GOOD, null);
    }

    private static JsonPayload.Message message(String json) {
        JsonPayload.Result result = JsonPayload.parse(json.getBytes(StandardCharsets.UTF_8), 1 << 20);
        assertThat(result).as(() -> result.toString()).isInstanceOf(JsonPayload.Message.class);
        return (JsonPayload.Message) result;
    }

    private static Refusal refused(byte[] payload) {
        JsonPayload.Result result = JsonPayload.parse(payload, 1 << 20);
        assertThat(result).as(() -> result.toString()).isInstanceOf(JsonPayload.Refused.class);
        return ((JsonPayload.Refused) result).refusal();
    }
}
