package io.loopwarden.mqtt.payload;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.mqtt.TestUnits;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

class JsonDecoderTest {

    private static final Instant NOW = Instant.parse("2026-11-25T08:00:01Z");
    private static final String TOPIC = "plant/east/CDU02/telemetry";

    private final JsonDecoder decoder = new JsonDecoder(
            TestUnits.connection("mqtt-json", URI.create("mqtt://localhost:1883"), List.of("CDU01", "CDU02")), 10_000);

    @Test
    void topicNamesTheUnitUnlessTheMessageDoes() {
        assertThat(unit(decode(TOPIC, "{\"values\":{\"T_SUP\":1}}"))).isEqualTo("E-02");
        assertThat(unit(decode(TOPIC, "{\"unit\":\"CDU01\",\"values\":{\"T_SUP\":1}}")))
                .isEqualTo("E-01");
        assertThat(unit(decode("CDU01/telemetry", "{\"values\":{\"T_SUP\":1}}")))
                .isEqualTo("E-01");
        assertThat(unit(decode("anything", "{\"unit\":\"CDU01\",\"values\":{\"T_SUP\":1}}")))
                .isEqualTo("E-01");
    }

    @Test
    void unknownUnitIsRefusedAsAWhole() {
        for (Decoded decoded : List.of(
                decode("plant/CDU09/telemetry", "{\"values\":{\"T_SUP\":1}}"),
                decode("plant/CDU01/other", "{\"values\":{\"T_SUP\":1}}"),
                decode("/telemetry", "{\"values\":{\"T_SUP\":1}}"),
                decode(TOPIC, "{\"unit\":\"CDU09\",\"values\":{\"T_SUP\":1}}"))) {
            assertThat(decoded.units()).isEmpty();
            assertThat(reasons(decoded)).containsExactly(RejectReason.UNKNOWN_UNIT);
        }
    }

    @Test
    void timeIsTheValuesThenTheMessagesThenOurs() {
        Decoded decoded = decode(TOPIC, """
                {"time":"2026-11-25T08:00:00Z","values":{"T_SUP":1,"T_FWS":{"value":2,"time":1795593599000}}}""");
        assertThat(readings(decoded))
                .containsExactly(
                        new RawReading("T_SUP", Instant.parse("2026-11-25T08:00:00Z"), RawValue.of(1), Quality.GOOD),
                        new RawReading("T_FWS", Instant.parse("2026-11-25T07:59:59Z"), RawValue.of(2), Quality.GOOD));
        assertThat(readings(decode(TOPIC, "{\"values\":{\"T_SUP\":1}}")).get(0).measuredAt())
                .isEqualTo(NOW);
    }

    @Test
    void retainedMessageWithoutTimeSaysNothing() {
        Decoded decoded = decoder.decode(arrival(TOPIC, "{\"values\":{\"T_SUP\":1}}", true));
        assertThat(decoded.units()).isEmpty();
        assertThat(reasons(decoded)).containsExactly(RejectReason.TIME_FAR_OFF);
        assertThat(decoder.decode(arrival(TOPIC, "{\"time\":1795593599000,\"values\":{\"T_SUP\":1}}", true))
                        .units())
                .hasSize(1);
    }

    @Test
    void otherUnitOfMeasureThanThePointMapsIsRefused() {
        Decoded decoded = decode(TOPIC, """
                {"values":{"T_SUP":{"value":1,"unit":"Cel"},"T_FWS":{"value":2,"unit":"Cel"}}}""");
        assertThat(readings(decoded)).extracting(RawReading::source).containsExactly("T_SUP");
        assertThat(decoded.refusals()).singleElement().satisfies(refusal -> {
            assertThat(refusal.reason()).isEqualTo(RejectReason.UNKNOWN_UNIT_OF_MEASURE);
            assertThat(refusal.detail()).contains("T_FWS", "Cel", "[degF]");
        });
    }

    @Test
    void unknownTagIsCountedAndTheRestHandedOn() {
        Decoded decoded = decode(TOPIC, "{\"values\":{\"T_NEW\":1,\"T_SUP\":2}}");
        assertThat(readings(decoded)).extracting(RawReading::source).containsExactly("T_SUP");
        assertThat(reasons(decoded)).containsExactly(RejectReason.UNKNOWN_TAG);
    }

    @Test
    void timeBeyondTheCalendarIsRefused() {
        Decoded decoded = decode(TOPIC, """
                {"values":{"T_SUP":{"value":1,"time":-1},"T_FWS":{"value":1,"time":9223372036854775807}}}""");
        assertThat(decoded.units()).isEmpty();
        assertThat(reasons(decoded)).containsExactly(RejectReason.TIME_FAR_OFF, RejectReason.TIME_FAR_OFF);
    }

    @Test
    void emptyPayloadTakesARetainedMessageBackAndIsNoFault() {
        assertThat(decode(TOPIC, "")).isEqualTo(Decoded.NOTHING);
    }

    private Decoded decode(String topic, String json) {
        return decoder.decode(arrival(topic, json, false));
    }

    private static Arrival arrival(String topic, String json, boolean retained) {
        return new Arrival(topic, json.getBytes(StandardCharsets.UTF_8), retained, false, NOW);
    }

    private static String unit(Decoded decoded) {
        return decoded.units().get(0).unit().value();
    }

    private static List<RawReading> readings(Decoded decoded) {
        return decoded.units().get(0).readings();
    }

    private static List<RejectReason> reasons(Decoded decoded) {
        return decoded.refusals().stream().map(Refusal::reason).toList();
    }
}
