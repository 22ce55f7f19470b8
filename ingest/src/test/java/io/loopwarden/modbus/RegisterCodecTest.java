package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.RawValue;
import io.loopwarden.pointmap.RegisterLayout;
import io.loopwarden.pointmap.RegisterLayout.Table;
import io.loopwarden.pointmap.RegisterLayout.Type;
import io.loopwarden.pointmap.RegisterLayout.WordOrder;
import java.util.HexFormat;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RegisterCodecTest {

    @ParameterizedTest(name = "{0} {1} {2}")
    @CsvSource(textBlock = """
            # registers,        type,    words,      value,                 note
            420E 0000,          FLOAT32, HIGH_FIRST, 35.5,                  sign 0 exponent 132 mantissa 0x0E0000
            420E 0000,          FLOAT32, LOW_FIRST,  2.3695957e-41,         the wrong order makes a denormal
            0000 420E,          FLOAT32, LOW_FIRST,  35.5,                  the same with the low word first
            0001 E240,          INT32,   HIGH_FIRST, 123456,                0x0001E240
            E240 0001,          INT32,   LOW_FIRST,  123456,                0x0001E240
            0001 E240,          INT32,   LOW_FIRST,  -499122175,            words swapped
            0001 E240,          UINT32,  LOW_FIRST,  3795845121,            words swapped unsigned
            FF38,               INT16,   HIGH_FIRST, -200,                  two's complement
            FF38,               UINT16,  HIGH_FIRST, 65336,                 unsigned
            0020 0000 0000 0001, INT64,  HIGH_FIRST, 9007199254740993,      2^53 + 1 has no double
            0001 0000 0000 0020, INT64,  LOW_FIRST,  9007199254740993,      2^53 + 1 with the low word first
            FFFF FFFF FFFF FFFF, UINT64, HIGH_FIRST, -1,                    all 64 bits are kept
            400C 0000 0000 0000, FLOAT64, HIGH_FIRST, 3.5,                  IEC 60559
            0000 0000 0000 400C, FLOAT64, LOW_FIRST, 3.5,                   IEC 60559
            8000 0000,          FLOAT32, HIGH_FIRST, -0.0,                  a signed zero is a number
            """)
    void decodes(String registers, Type type, WordOrder order, String value, String note) {
        RawValue decoded = RegisterCodec.decode(
                bytes("AAAA " + registers), 99, new RegisterLayout(Table.HOLDING, 100, type, order));
        RawValue expected = type == Type.FLOAT32
                ? RawValue.of((double) Float.parseFloat(value))
                : type == Type.FLOAT64 ? RawValue.of(Double.parseDouble(value)) : RawValue.of(Long.parseLong(value));
        assertThat(decoded).as(note).isEqualTo(expected);
    }

    @ParameterizedTest(name = "{0} {1}")
    @CsvSource(textBlock = """
            # registers,        type,    words,      marker, none
            7FFF,               INT16,   HIGH_FIRST, 7FFF,   true
            8000,               INT16,   HIGH_FIRST, 8000,   true
            8001,               INT16,   HIGH_FIRST, 8000,   false
            FFFF FFFF,          UINT32,  HIGH_FIRST, FFFFFFFF, true
            0000 8000,          INT32,   LOW_FIRST,  80000000, true
            7FC0 0000,          FLOAT32, HIGH_FIRST, 1,      true
            FF80 0000,          FLOAT32, HIGH_FIRST, 1,      true
            C61C 3C00,          FLOAT32, HIGH_FIRST, C61C3C00, true
            7FF0 0000 0000 0000, FLOAT64, HIGH_FIRST, 1,     true
            """)
    void markerAndWhatIsNoNumberHaveNoValue(String registers, Type type, WordOrder order, String marker, boolean none) {
        RegisterLayout layout =
                new RegisterLayout(Table.INPUT, 0, type, order, Set.of(Long.parseUnsignedLong(marker, 16)));
        assertThat(RegisterCodec.decode(bytes(registers), 0, layout) == RawValue.NONE)
                .isEqualTo(none);
    }

    @Test
    void bitsAreCountedFromTheLowEndOfEachByte() {
        byte[] answer = bytes("CD 6B 05"); // the example of V1.1b3, 6.1: coils 20 to 38 (wire addresses 19 to 37)
        boolean[] expected = {
            true, false, true, true, false, false, true, true,
            true, true, false, true, false, true, true, false,
            true, false, true
        };
        for (int i = 0; i < expected.length; i++) {
            RegisterLayout coil = new RegisterLayout(Table.COIL, 19 + i, Type.BIT, WordOrder.HIGH_FIRST);
            assertThat(RegisterCodec.decode(answer, 19, coil))
                    .as("coil %d", 20 + i)
                    .isEqualTo(RawValue.of(expected[i]));
        }
    }

    private static byte[] bytes(String hex) {
        return HexFormat.of().parseHex(hex.replace(" ", ""));
    }
}
