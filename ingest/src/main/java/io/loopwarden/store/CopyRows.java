package io.loopwarden.store;

import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.SQLException;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyIn;

/** Frames as one {@code COPY ... BINARY}, built in one buffer. */
final class CopyRows implements FrameRows {

    private static final String COPY =
            "COPY frame (start_at, last_at, unit_id, layout_id, sample_count, payload) FROM STDIN (FORMAT binary)";
    private static final byte[] SIGNATURE = "PGCOPY\n\u00ff\r\n\0".getBytes(StandardCharsets.ISO_8859_1);
    private static final int FIELDS = 6;
    private static final long MICROS_1970_TO_2000 = 946_684_800_000_000L;

    private final FrameEncoder encoder = new FrameEncoder();
    private final ByteSink out = new ByteSink(1 << 16);
    private int rows;

    @Override
    public void add(int unitId, HourBuffer buffer) {
        if (rows++ == 0) {
            out.bytes(SIGNATURE, 0, SIGNATURE.length);
            out.int32(0);
            out.int32(0);
        }
        long startMicros = Times.microsBelow(buffer.firstNs());
        out.int16(FIELDS);
        time(startMicros);
        time(Times.microsAbove(buffer.lastNs()));
        number(unitId);
        number(buffer.layout().id());
        number(buffer.samples());
        int lengthAt = out.size();
        out.int32(0);
        encoder.encode(buffer.columns(), buffer.layout().size(), startMicros * 1000, out);
        out.int32At(lengthAt, out.size() - lengthAt - Integer.BYTES);
    }

    private void time(long micros) {
        out.int32(Long.BYTES);
        out.int64(micros - MICROS_1970_TO_2000);
    }

    private void number(int value) {
        out.int32(Integer.BYTES);
        out.int32(value);
    }

    @Override
    public boolean isEmpty() {
        return rows == 0;
    }

    @Override
    public void send(Connection connection) throws SQLException {
        out.int16(-1);
        CopyIn copy = connection.unwrap(PGConnection.class).getCopyAPI().copyIn(COPY);
        try {
            copy.writeToCopy(out.array(), 0, out.size());
            copy.endCopy();
        } finally {
            if (copy.isActive()) {
                copy.cancelCopy();
            }
        }
    }

    @Override
    public void clear() {
        out.clear();
        rows = 0;
    }
}
