package io.loopwarden.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;

/** Frames as batched inserts, for servers that cannot COPY. */
final class InsertRows implements FrameRows {

    private record Row(long startNs, long lastNs, int unitId, int layoutId, int samples, byte[] payload) {}

    private final FrameEncoder encoder = new FrameEncoder();
    private final ByteSink out = new ByteSink(1 << 12);
    private final List<Row> rows = new ArrayList<>();

    @Override
    public void add(int unitId, HourBuffer buffer) {
        long startNs = Times.microsBelow(buffer.firstNs()) * 1000;
        long lastNs = Times.microsAbove(buffer.lastNs()) * 1000;
        out.clear();
        encoder.encode(buffer.columns(), buffer.layout().size(), startNs, out);
        rows.add(new Row(startNs, lastNs, unitId, buffer.layout().id(), buffer.samples(), out.toArray()));
    }

    @Override
    public boolean isEmpty() {
        return rows.isEmpty();
    }

    @Override
    public void send(Connection connection) throws SQLException {
        try (PreparedStatement insert = connection.prepareStatement(INSERT)) {
            for (Row row : rows) {
                insert.setObject(1, Times.sql(row.startNs()));
                insert.setObject(2, Times.sql(row.lastNs()));
                insert.setInt(3, row.unitId());
                insert.setInt(4, row.layoutId());
                insert.setInt(5, row.samples());
                insert.setBytes(6, row.payload());
                insert.addBatch();
            }
            insert.executeBatch();
        }
    }

    @Override
    public void clear() {
        rows.clear();
    }

    private static final String INSERT = """
            INSERT INTO frame (start_at, last_at, unit_id, layout_id, sample_count, payload)
            VALUES (?, ?, ?, ?, ?, ?)""";
}
