package io.loopwarden.mqtt.payload;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.RawValue;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;

class JsonPayloadProperties {

    private static final byte[] VALID = """
            {"unit":"CDU03","time":"2026-11-25T08:00:00.250Z","values":{"A":31.42,"B":true,"C":9007199254740993,
             "D":{"value":412.5,"time":1795593600100,"quality":"uncertain","code":3,"unit":"[gal_us]/min"},"E":null}}""".getBytes(StandardCharsets.UTF_8);

    @Property
    void anyBytesAreAMessageOrAReason(@ForAll @Size(max = 400) byte[] bytes) {
        assertThat(JsonPayload.parse(bytes, 300)).isNotNull();
    }

    @Property
    void anyChangedByteIsAMessageOrAReason(@ForAll @IntRange(min = 0, max = 1000) int at, @ForAll byte replacement) {
        byte[] changed = VALID.clone();
        changed[at % changed.length] = replacement;
        assertThat(JsonPayload.parse(changed, 10_000)).isNotNull();
    }

    @Property
    void anyTruncationIsMalformed(@ForAll @IntRange(min = 0, max = 1000) int length) {
        Assume.that(length < VALID.length);
        JsonPayload.Result result = JsonPayload.parse(Arrays.copyOf(VALID, length), 10_000);
        assertThat(result)
                .isInstanceOfSatisfying(
                        JsonPayload.Refused.class,
                        refused -> assertThat(refused.refusal().reason()).isEqualTo(RejectReason.MALFORMED));
    }

    @Property
    void everyWholeNumberComesBackToTheLastBit(@ForAll long number) {
        assertThat(valueOf(Long.toString(number))).isEqualTo(RawValue.of(number));
        assertThat(valueOf(Long.toUnsignedString(number))).isEqualTo(RawValue.of(number));
    }

    @Property
    void everyDecimalComesBackToTheLastBit(@ForAll long bits) {
        double number = Double.longBitsToDouble(bits);
        Assume.that(Double.isFinite(number));
        assertThat(valueOf(Double.toString(number))).isEqualTo(RawValue.of(number));
    }

    private static RawValue valueOf(String number) {
        byte[] json = ("{\"values\":{\"T\":" + number + "}}").getBytes(StandardCharsets.UTF_8);
        return ((JsonPayload.Message) JsonPayload.parse(json, 10_000))
                .values()
                .get(0)
                .value();
    }
}
