package io.loopwarden.mqtt.payload;

import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.RawValue;
import org.eclipse.tahu.protobuf.SparkplugBProto;

/** What stands in a metric's value field. Which number it is, only the data type tells, and that may stand in the birth. */
sealed interface SparkplugValue {

    /** A number, or the reason why there is none. */
    sealed interface Read {
        record Number(RawValue value) implements Read {}

        record Refused(RejectReason reason, String what) implements Read {}
    }

    Read as(int dataType);

    static SparkplugValue of(SparkplugBProto.Payload.Metric metric) {
        if (metric.getIsNull()) {
            return new Null();
        }
        switch (metric.getValueCase()) {
            case INT_VALUE:
                return new Bits(Integer.toUnsignedLong(metric.getIntValue()), 32);
            case LONG_VALUE:
                return new Bits(metric.getLongValue(), 64);
            case FLOAT_VALUE:
                return new Real(metric.getFloatValue());
            case DOUBLE_VALUE:
                return new Real(metric.getDoubleValue());
            case BOOLEAN_VALUE:
                return new Flag(metric.getBooleanValue());
            case VALUE_NOT_SET:
                return new Null();
            default:
                return new Other();
        }
    }

    record Null() implements SparkplugValue {
        @Override
        public Read as(int dataType) {
            return new Read.Number(RawValue.NONE);
        }
    }

    /**
     * A whole number in two's complement, unsigned as it lies in the message.
     *
     * @param width of the field, 32 or 64; senders differ in whether they extend the sign of a shorter type over it
     */
    record Bits(long bits, int width) implements SparkplugValue {
        @Override
        public Read as(int dataType) {
            switch (dataType) {
                case SparkplugBProto.DataType.Int8_VALUE:
                    return signed(8);
                case SparkplugBProto.DataType.Int16_VALUE:
                    return signed(16);
                case SparkplugBProto.DataType.Int32_VALUE:
                    return signed(32);
                case SparkplugBProto.DataType.UInt8_VALUE:
                    return unsigned(8);
                case SparkplugBProto.DataType.UInt16_VALUE:
                    return unsigned(16);
                case SparkplugBProto.DataType.UInt32_VALUE:
                    return unsigned(32);
                case SparkplugBProto.DataType.Unknown_VALUE:
                case SparkplugBProto.DataType.UInt64_VALUE:
                case SparkplugBProto.DataType.DateTime_VALUE:
                    return new Read.Number(RawValue.of(bits));
                case SparkplugBProto.DataType.Int64_VALUE:
                    return new Read.Number(RawValue.of(width == 32 ? (int) bits : bits));
                default:
                    return wrong("a whole number", dataType);
            }
        }

        private Read signed(int size) {
            long extended = bits << (64 - size) >> (64 - size);
            boolean fits = bits >>> size == 0 || extended == (width == 32 ? (int) bits : bits);
            return fits ? new Read.Number(RawValue.of(extended)) : tooLong(size);
        }

        private Read unsigned(int size) {
            return bits >>> size == 0 ? new Read.Number(RawValue.of(bits)) : tooLong(size);
        }

        private Read tooLong(int size) {
            return new Read.Refused(
                    RejectReason.WRONG_TYPE, "is " + Long.toUnsignedString(bits) + ", more than " + size + " bits");
        }
    }

    record Real(double value) implements SparkplugValue {
        @Override
        public Read as(int dataType) {
            if (dataType != SparkplugBProto.DataType.Unknown_VALUE
                    && dataType != SparkplugBProto.DataType.Float_VALUE
                    && dataType != SparkplugBProto.DataType.Double_VALUE) {
                return wrong("a decimal number", dataType);
            }
            return Double.isFinite(value)
                    ? new Read.Number(RawValue.of(value))
                    : new Read.Refused(RejectReason.NOT_A_NUMBER, "is " + value);
        }
    }

    record Flag(boolean value) implements SparkplugValue {
        @Override
        public Read as(int dataType) {
            return dataType == SparkplugBProto.DataType.Unknown_VALUE
                            || dataType == SparkplugBProto.DataType.Boolean_VALUE
                    ? new Read.Number(RawValue.of(value))
                    : wrong("a flag", dataType);
        }
    }

    /** Text, bytes, tables, templates. */
    record Other() implements SparkplugValue {
        @Override
        public Read as(int dataType) {
            return wrong("no number or flag", dataType);
        }
    }

    private static Read wrong(String what, int dataType) {
        SparkplugBProto.DataType type = SparkplugBProto.DataType.forNumber(dataType);
        return new Read.Refused(
                RejectReason.WRONG_TYPE, "is " + what + " where its type is " + (type == null ? dataType : type));
    }
}
