package io.loopwarden.opcua;

import static org.assertj.core.api.Assertions.assertThat;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ubyte;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ulong;
import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ushort;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.math.BigInteger;
import java.time.Instant;
import java.util.stream.Stream;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class DataValuesTest {

    private static final Instant SOURCE = Instant.parse("2026-11-25T08:00:00.123456700Z");
    private static final Instant SERVER = Instant.parse("2026-11-25T08:00:00.200Z");
    private static final Instant RECEIVED = Instant.parse("2026-11-25T08:00:00.300Z");

    static Stream<Arguments> numbers() {
        return Stream.of(
                Arguments.of("Boolean true", true, RawValue.of(1L)),
                Arguments.of("Boolean false", false, RawValue.of(0L)),
                Arguments.of("SByte", (byte) -128, RawValue.of(-128L)),
                Arguments.of("Byte", ubyte(255), RawValue.of(255L)),
                Arguments.of("Int16", (short) -32768, RawValue.of(-32768L)),
                Arguments.of("UInt16", ushort(65535), RawValue.of(65535L)),
                Arguments.of("Int32", Integer.MIN_VALUE, RawValue.of(-2147483648L)),
                Arguments.of("UInt32", uint(4294967295L), RawValue.of(4294967295L)),
                Arguments.of("Int64", Long.MIN_VALUE, RawValue.of(Long.MIN_VALUE)),
                Arguments.of("UInt64 above 2^53", ulong(9007199254740993L), RawValue.of(9007199254740993L)),
                Arguments.of("UInt64 all ones", ulong(new BigInteger("18446744073709551615")), RawValue.of(-1L)),
                Arguments.of("Float", 35.5f, RawValue.of(35.5)),
                Arguments.of("Float 0.1 keeps its own value", 0.1f, RawValue.of((double) 0.1f)),
                Arguments.of("Double", 31.42, RawValue.of(31.42)));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("numbers")
    void numbersAndFlagsAreKept(String name, Object value, RawValue expected) {
        assertThat(taken(data(Variant.of(value), 0)).value()).isEqualTo(expected);
    }

    /** Codes of OPC UA Part 6, A.2; severity by the upper two bits. */
    @ParameterizedTest
    @CsvSource({
        "0x00000000, GOOD",
        "0x00960000, GOOD", // GoodLocalOverride
        "0x00300480, GOOD", // GoodClamped with overflow
        "0x40000000, UNCERTAIN",
        "0x40900000, UNCERTAIN", // UncertainLastUsableValue
        "0x42090000, UNCERTAIN", // UncertainSimulatedValue
        "0x80310000, BAD", // BadNoCommunication
        "0x808C0000, BAD", // BadSensorFailure
        "0xC0000000, BAD", // reserved severity
        "0xFFFFFFFF, BAD"
    })
    void severityIsInTheUpperTwoBitsAndTheCodeIsKept(String code, Quality.Level level) {
        long expected = Long.decode(code);
        Quality quality = taken(data(Variant.of(1.0), expected)).quality();
        assertThat(quality).isEqualTo(new Quality(level, expected));
    }

    @Test
    void statusIsGoodWhereNoneWasSent() {
        DataValue value = new DataValue(Variant.of(1.0), null, new DateTime(SOURCE));
        assertThat(taken(value).quality()).isEqualTo(Quality.GOOD);
    }

    @Test
    void sourceTimeIsKeptThenServerTimeThenOurs() {
        StatusCode good = StatusCode.GOOD;
        Variant one = Variant.of(1.0);
        assertThat(taken(new DataValue(one, good, new DateTime(SOURCE), new DateTime(SERVER)))
                        .measuredAt())
                .isEqualTo(SOURCE);
        assertThat(taken(new DataValue(one, good, null, new DateTime(SERVER))).measuredAt())
                .isEqualTo(SERVER);
        assertThat(taken(new DataValue(one, good, DateTime.NULL_VALUE, new DateTime(SERVER)))
                        .measuredAt())
                .isEqualTo(SERVER);
        assertThat(taken(new DataValue(one, good, null, null)).measuredAt()).isEqualTo(RECEIVED);
    }

    @Test
    void badStatusWithoutAUsableValueIsAReadingWithoutValue() {
        for (Variant variant : new Variant[] {Variant.NULL_VALUE, Variant.of(Double.NaN), Variant.of("text")}) {
            RawReading reading = taken(data(variant, 0x808C_0000L));
            assertThat(reading.value()).isEqualTo(RawValue.NONE);
            assertThat(reading.quality().code()).isEqualTo(0x808C_0000L);
        }
        assertThat(taken(data(Variant.of(7.0), 0x808C_0000L)).value()).isEqualTo(RawValue.of(7.0));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void notANumberIsRefused(double value) {
        assertThat(refused(Variant.of(value)).reason()).isEqualTo(RejectReason.NOT_A_NUMBER);
        assertThat(refused(Variant.of((float) value)).reason()).isEqualTo(RejectReason.NOT_A_NUMBER);
    }

    @Test
    void otherTypesAreRefusedAndNamed() {
        assertThat(refused(Variant.of("on")))
                .isEqualTo(new DataValues.Refused(
                        RejectReason.WRONG_TYPE,
                        "ns=2;s=T has a String with status GOOD, a number or boolean is needed"));
        assertThat(refused(Variant.of(new Double[] {1.0, 2.0})).reason()).isEqualTo(RejectReason.WRONG_TYPE);
        assertThat(refused(Variant.of(new DateTime(SOURCE))).reason()).isEqualTo(RejectReason.WRONG_TYPE);
        assertThat(refused(Variant.NULL_VALUE).detail()).contains("no value");
    }

    @ParameterizedTest
    @CsvSource({
        "0x00000480, true", // data value info, overflow
        "0x80000480, true",
        "0x00000080, false", // overflow bit without the info type
        "0x00000400, false",
        "0x00000000, false"
    })
    void overflowIsReadFromTheInfoBits(String code, boolean expected) {
        assertThat(DataValues.overflowed(data(Variant.of(1.0), Long.decode(code))))
                .isEqualTo(expected);
    }

    private static DataValue data(Variant variant, long status) {
        return new DataValue(variant, new StatusCode(status), new DateTime(SOURCE), new DateTime(SERVER));
    }

    private static RawReading taken(DataValue value) {
        return ((DataValues.Taken) DataValues.decode("ns=2;s=T", value, RECEIVED)).reading();
    }

    private static DataValues.Refused refused(Variant variant) {
        return (DataValues.Refused) DataValues.decode("ns=2;s=T", data(variant, 0), RECEIVED);
    }
}
