package io.loopwarden.spool;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.InflaterInputStream;

/** A scan as bytes: every field as it is, deflated, since names and conversions repeat. */
final class ScanCodec {

    private static final byte DECIMAL = 0;
    private static final byte WHOLE = 1;
    private static final byte NONE = 2;
    private static final int MOST_SAMPLES = 1_000_000;
    private static final Quality.Level[] LEVELS = Quality.Level.values();

    private ScanCodec() {}

    static byte[] encode(Scan scan) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(2_048);
        Deflater deflater = new Deflater(Deflater.BEST_SPEED);
        try (DataOutputStream out = new DataOutputStream(new DeflaterOutputStream(bytes, deflater))) {
            out.writeUTF(scan.unit().value());
            write(out, scan.receivedAt());
            out.writeInt(scan.samples().size());
            for (Sample sample : scan.samples()) {
                write(out, sample);
            }
        } catch (IOException e) {
            throw new IllegalStateException("writing to memory failed", e);
        } finally {
            deflater.end();
        }
        return bytes.toByteArray();
    }

    private static void write(DataOutputStream out, Sample sample) throws IOException {
        out.writeUTF(sample.point().value());
        write(out, sample.measuredAt());
        if (sample.raw() instanceof RawValue.Decimal decimal) {
            out.writeByte(DECIMAL);
            out.writeDouble(decimal.value());
        } else if (sample.raw() instanceof RawValue.Whole whole) {
            out.writeByte(WHOLE);
            out.writeLong(whole.value());
        } else {
            out.writeByte(NONE);
        }
        out.writeDouble(sample.conversion().factor());
        out.writeDouble(sample.conversion().offset());
        out.writeUTF(sample.conversion().ucum());
        out.writeByte(sample.quality().level().ordinal());
        out.writeLong(sample.quality().code());
    }

    private static void write(DataOutputStream out, Instant at) throws IOException {
        out.writeLong(at.getEpochSecond());
        out.writeInt(at.getNano());
    }

    /** @throws IOException if these bytes are no scan, or one with a point that this program does not know */
    static Scan decode(byte[] bytes) throws IOException {
        try (DataInputStream in = new DataInputStream(new InflaterInputStream(new ByteArrayInputStream(bytes)))) {
            UnitId unit = new UnitId(in.readUTF());
            Instant receivedAt = instant(in);
            int count = in.readInt();
            if (count < 1 || count > MOST_SAMPLES) {
                throw new IOException("a scan of " + unit + " says it has " + count + " samples");
            }
            List<Sample> samples = new ArrayList<>(Math.min(count, 1_000));
            for (int i = 0; i < count; i++) {
                samples.add(sample(in));
            }
            return new Scan(unit, receivedAt, samples);
        } catch (RuntimeException e) {
            throw new IOException("a spooled scan cannot be read: " + e.getMessage(), e);
        }
    }

    private static Sample sample(DataInputStream in) throws IOException {
        PointName point = PointName.of(in.readUTF());
        Instant measuredAt = instant(in);
        RawValue raw = switch (in.readByte()) {
            case DECIMAL -> RawValue.of(in.readDouble());
            case WHOLE -> RawValue.of(in.readLong());
            case NONE -> RawValue.NONE;
            default -> throw new IOException("a spooled sample of " + point + " has an unknown form");
        };
        Conversion conversion = new Conversion(in.readDouble(), in.readDouble(), in.readUTF());
        return new Sample(point, measuredAt, raw, conversion, new Quality(LEVELS[in.readByte()], in.readLong()));
    }

    private static Instant instant(DataInputStream in) throws IOException {
        return Instant.ofEpochSecond(in.readLong(), in.readInt());
    }
}
