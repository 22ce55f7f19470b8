package io.loopwarden.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.RawValue;
import io.loopwarden.pointmap.RegisterLayout;
import io.loopwarden.pointmap.RegisterLayout.Table;
import io.loopwarden.pointmap.RegisterLayout.Type;
import io.loopwarden.pointmap.RegisterLayout.WordOrder;
import java.nio.ByteBuffer;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

/** What a device puts into registers comes out again, in every type and word order, wherever it lies in the answer. */
class RegisterCodecProperties {

    @Property
    void wholeNumbersComeBack(
            @ForAll long bits,
            @ForAll("whole") Type type,
            @ForAll WordOrder order,
            @ForAll @IntRange(max = 100) int before) {
        long value = cut(bits, type);
        assertThat(decode(encode(value, type, order, before), type, order, before))
                .isEqualTo(RawValue.of(value));
    }

    @Property
    void floatsComeBack(@ForAll float value, @ForAll WordOrder order, @ForAll @IntRange(max = 100) int before) {
        byte[] answer = encode(Float.floatToRawIntBits(value), Type.FLOAT32, order, before);
        assertThat(decode(answer, Type.FLOAT32, order, before)).isEqualTo(RawValue.of((double) value));
    }

    @Property
    void doublesComeBack(@ForAll double value, @ForAll WordOrder order, @ForAll @IntRange(max = 100) int before) {
        byte[] answer = encode(Double.doubleToRawLongBits(value), Type.FLOAT64, order, before);
        assertThat(decode(answer, Type.FLOAT64, order, before)).isEqualTo(RawValue.of(value));
    }

    @Property
    void anyBitsAreANumberOrNoValue(@ForAll long bits, @ForAll("registers") Type type, @ForAll WordOrder order) {
        RawValue value = decode(encode(bits, type, order, 0), type, order, 0);
        boolean floating = type == Type.FLOAT32 || type == Type.FLOAT64;
        assertThat(value).matches(v -> v instanceof RawValue.Whole || floating);
    }

    @Provide
    Arbitrary<Type> whole() {
        return Arbitraries.of(Type.INT16, Type.UINT16, Type.INT32, Type.UINT32, Type.INT64, Type.UINT64);
    }

    @Provide
    Arbitrary<Type> registers() {
        return Arbitraries.of(Type.values()).filter(type -> type != Type.BIT);
    }

    private static long cut(long bits, Type type) {
        return switch (type) {
            case INT16 -> (short) bits;
            case UINT16 -> bits & 0xFFFF;
            case INT32 -> (int) bits;
            case UINT32 -> bits & 0xFFFF_FFFFL;
            default -> bits;
        };
    }

    private static byte[] encode(long bits, Type type, WordOrder order, int registersBefore) {
        int words = type.registers();
        ByteBuffer answer = ByteBuffer.allocate(2 * (registersBefore + words + 3));
        answer.position(2 * registersBefore);
        for (int i = 0; i < words; i++) {
            int fromLow = order == WordOrder.LOW_FIRST ? i : words - 1 - i;
            answer.putShort((short) (bits >>> 16 * fromLow));
        }
        return answer.array();
    }

    private static RawValue decode(byte[] answer, Type type, WordOrder order, int registersBefore) {
        RegisterLayout layout = new RegisterLayout(Table.HOLDING, 1000 + registersBefore, type, order);
        return RegisterCodec.decode(answer, 1000, layout);
    }
}
