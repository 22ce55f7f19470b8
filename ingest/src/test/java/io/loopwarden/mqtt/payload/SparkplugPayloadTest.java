package io.loopwarden.mqtt.payload;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.mqtt.payload.SparkplugPayload.Metric;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.Date;
import java.util.stream.Stream;
import org.eclipse.tahu.message.SparkplugBPayloadEncoder;
import org.eclipse.tahu.message.model.Metric.MetricBuilder;
import org.eclipse.tahu.message.model.MetricDataType;
import org.eclipse.tahu.message.model.PropertyDataType;
import org.eclipse.tahu.message.model.PropertySet;
import org.eclipse.tahu.message.model.PropertyValue;
import org.eclipse.tahu.message.model.SparkplugBPayload;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** The coding itself comes from the library's encoder, which this code does not use otherwise. */
class SparkplugPayloadTest {

    private static final Date TIME = new Date(1_795_593_600_100L);

    static Stream<Arguments> values() {
        return Stream.of(
                Arguments.of(MetricDataType.Int8, (byte) -1, RawValue.of(-1)),
                Arguments.of(MetricDataType.Int16, (short) -32768, RawValue.of(-32768)),
                Arguments.of(MetricDataType.Int32, -5, RawValue.of(-5)),
                Arguments.of(MetricDataType.Int64, Long.MIN_VALUE, RawValue.of(Long.MIN_VALUE)),
                Arguments.of(MetricDataType.UInt8, (short) 255, RawValue.of(255)),
                Arguments.of(MetricDataType.UInt16, 65_535, RawValue.of(65_535)),
                Arguments.of(MetricDataType.UInt32, 4_294_967_295L, RawValue.of(4_294_967_295L)),
                Arguments.of(MetricDataType.UInt64, new BigInteger("18446744073709551615"), RawValue.of(-1)),
                Arguments.of(MetricDataType.Float, 31.4f, RawValue.of((double) 31.4f)),
                Arguments.of(MetricDataType.Double, 31.4, RawValue.of(31.4)),
                Arguments.of(MetricDataType.Boolean, true, RawValue.of(1)));
    }

    @ParameterizedTest(name = "{0} {1}")
    @MethodSource("values")
    void everyNumberComesAsSent(MetricDataType type, Object value, RawValue expected) throws Exception {
        Metric metric = parse(new MetricBuilder("T", type, value).createMetric())
                .metrics()
                .get(0);
        assertThat(metric.value().as(metric.dataType())).isEqualTo(new SparkplugValue.Read.Number(expected));
    }

    @Test
    void nameAliasTimesSequenceAndFlagsAreRead() throws Exception {
        SparkplugPayload.Message message = parse(new MetricBuilder("T", MetricDataType.Double, 1.5)
                .alias(7L)
                .timestamp(TIME)
                .isHistorical(true)
                .createMetric());
        assertThat(message.seq()).isEqualTo(254);
        assertThat(message.time()).isEqualTo(TIME.toInstant());
        assertThat(message.metrics())
                .containsExactly(
                        new Metric("T", 7, 10, TIME.toInstant(), true, Quality.GOOD, new SparkplugValue.Real(1.5)));
    }

    @ParameterizedTest
    @CsvSource({"0,BAD", "192,GOOD", "500,UNCERTAIN", "64,UNCERTAIN"})
    void qualityPropertyIsKept(int code, Level level) throws Exception {
        PropertySet properties = new PropertySet();
        properties.put("other", new PropertyValue<>(PropertyDataType.Int32, 3));
        properties.put("Quality", new PropertyValue<>(PropertyDataType.Int32, code));
        Metric metric = parse(new MetricBuilder("T", MetricDataType.Double, 1.5)
                        .properties(properties)
                        .createMetric())
                .metrics()
                .get(0);
        assertThat(metric.quality()).isEqualTo(new Quality(level, code));
    }

    @Test
    void nullHasNoValueAndTextIsNoNumber() throws Exception {
        SparkplugPayload.Message message = parse(
                new MetricBuilder("N", MetricDataType.Double, null).createMetric(),
                new MetricBuilder("S", MetricDataType.String, "on").createMetric());
        assertThat(message.metrics().get(0).value().as(10)).isEqualTo(new SparkplugValue.Read.Number(RawValue.NONE));
        assertThat(refusal(message.metrics().get(1).value(), 12)).isEqualTo(RejectReason.WRONG_TYPE);
    }

    @Test
    void valueThatDoesNotFitItsTypeIsRefused() {
        assertThat(refusal(new SparkplugValue.Bits(300, 32), 5)).isEqualTo(RejectReason.WRONG_TYPE);
        assertThat(refusal(new SparkplugValue.Bits(1, 32), 10)).isEqualTo(RejectReason.WRONG_TYPE);
        assertThat(refusal(new SparkplugValue.Real(1), 3)).isEqualTo(RejectReason.WRONG_TYPE);
        assertThat(refusal(new SparkplugValue.Flag(true), 10)).isEqualTo(RejectReason.WRONG_TYPE);
        assertThat(refusal(new SparkplugValue.Real(Double.NaN), 10)).isEqualTo(RejectReason.NOT_A_NUMBER);
    }

    @ParameterizedTest(name = "{0} in {1} bits as type {2}")
    @CsvSource({"0xFF,32,1,-1", "0xFFFFFFFF,32,1,-1", "-1,64,1,-1", "0x7F,32,1,127", "0xFFFFFFFF,32,4,-1"})
    void signMayBeExtendedOrNot(String bits, int width, int type, long expected) {
        assertThat(new SparkplugValue.Bits(Long.decode(bits), width).as(type))
                .isEqualTo(new SparkplugValue.Read.Number(RawValue.of(expected)));
    }

    @Test
    void truncatedPayloadIsMalformed() throws Exception {
        byte[] whole = bytes(new MetricBuilder("T", MetricDataType.Double, 1.5).createMetric());
        assertThat(SparkplugPayload.parse(Arrays.copyOf(whole, whole.length - 1), 1000))
                .isInstanceOfSatisfying(
                        SparkplugPayload.Refused.class,
                        refused -> assertThat(refused.refusal().reason()).isEqualTo(RejectReason.MALFORMED));
    }

    @Test
    void tooLargeAndTooManyAreRefused() {
        assertThat(((SparkplugPayload.Refused) SparkplugPayload.parse(new byte[101], 100))
                        .refusal()
                        .reason())
                .isEqualTo(RejectReason.PAYLOAD_TOO_LARGE);
        byte[] emptyMetrics = new byte[2 * (SparkplugPayload.MAX_METRICS + 1)];
        for (int i = 0; i < emptyMetrics.length; i += 2) {
            emptyMetrics[i] = 0x12; // field 2, length-delimited; the length after it stays 0
        }
        assertThat(((SparkplugPayload.Refused) SparkplugPayload.parse(emptyMetrics, 1 << 20))
                        .refusal()
                        .detail())
                .contains("10001 metrics");
    }

    private static RejectReason refusal(SparkplugValue value, int type) {
        return ((SparkplugValue.Read.Refused) value.as(type)).reason();
    }

    private static SparkplugPayload.Message parse(org.eclipse.tahu.message.model.Metric... metrics) throws Exception {
        return (SparkplugPayload.Message) SparkplugPayload.parse(bytes(metrics), 10_000);
    }

    private static byte[] bytes(org.eclipse.tahu.message.model.Metric... metrics) throws Exception {
        SparkplugBPayload payload = new SparkplugBPayload(TIME, Arrays.asList(metrics), 254L, null, null);
        return new SparkplugBPayloadEncoder().getBytes(payload, false);
    }
}
