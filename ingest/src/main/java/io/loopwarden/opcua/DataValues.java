package io.loopwarden.opcua;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import java.time.Instant;
import java.util.Optional;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.ULong;

/** From an OPC UA data value to a raw reading, or to the reason why it is none. Pure. */
final class DataValues {

    /** BadNoCommunication: how a gap is marked. */
    static final Quality NO_COMMUNICATION = new Quality(Level.BAD, 0x8031_0000L);

    sealed interface Decoded permits Taken, Refused {}

    record Taken(RawReading reading) implements Decoded {}

    record Refused(RejectReason reason, String detail) implements Decoded {}

    private DataValues() {}

    static Decoded decode(String source, DataValue data, Instant receivedAt) {
        Quality quality = quality(data.statusCode());
        Instant measuredAt =
                time(data.sourceTime()).or(() -> time(data.serverTime())).orElse(receivedAt);
        Object value = data.value() == null ? null : data.value().value();
        Optional<RawValue> raw = number(value);
        if (raw.isPresent()) {
            return new Taken(new RawReading(source, measuredAt, raw.get(), quality));
        }
        if (quality.level() == Level.BAD) {
            return new Taken(new RawReading(source, measuredAt, RawValue.NONE, quality));
        }
        if (value instanceof Float || value instanceof Double) {
            return new Refused(RejectReason.NOT_A_NUMBER, source + " is " + value + " with status " + quality.level());
        }
        String what = value == null ? "no value" : "a " + value.getClass().getSimpleName();
        return new Refused(
                RejectReason.WRONG_TYPE,
                source + " has " + what + " with status " + quality.level() + ", a number or boolean is needed");
    }

    /** OPC UA Part 4, 7.39: the upper two bits are the severity; 3 is reserved and read as bad. */
    static Quality quality(StatusCode status) {
        long code = status == null ? 0 : status.value() & 0xFFFF_FFFFL;
        Level level = switch ((int) (code >>> 30)) {
            case 0 -> Level.GOOD;
            case 1 -> Level.UNCERTAIN;
            default -> Level.BAD;
        };
        return new Quality(level, code);
    }

    /**
     * Values between this and the one before were dropped from the server's queue (bits 10 and 7: data value info,
     * overflow).
     */
    static boolean overflowed(DataValue data) {
        return data.statusCode() != null && (data.statusCode().value() & 0x0000_0480L) == 0x0000_0480L;
    }

    static Optional<Instant> time(DateTime time) {
        return time == null || time.isNull() ? Optional.empty() : Optional.of(time.getJavaInstant());
    }

    private static Optional<RawValue> number(Object value) {
        if (value instanceof Boolean flag) {
            return Optional.of(RawValue.of(flag.booleanValue()));
        }
        if (value instanceof Double || value instanceof Float) {
            double decimal = ((Number) value).doubleValue();
            return Double.isFinite(decimal) ? Optional.of(RawValue.of(decimal)) : Optional.empty();
        }
        if (value instanceof ULong big) {
            return Optional.of(RawValue.of(big.toBigInteger().longValue())); // keeps the 64 bits
        }
        return value instanceof Number whole ? Optional.of(RawValue.of(whole.longValue())) : Optional.empty();
    }
}
