package io.loopwarden.bench;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyIn;

/** The plain way to store samples: one row each by COPY, under a key of point and time. */
final class KeyedRows {

    private static final int CHUNK = 1 << 16;

    private final BenchStore store;
    private final Map<Object, Integer> numbers = new HashMap<>();

    KeyedRows(BenchStore store) throws SQLException {
        this.store = store;
        store.execute("CREATE TABLE IF NOT EXISTS keyed (point_id int, at timestamptz, value double precision,"
                + " quality int, unit_id int, PRIMARY KEY (unit_id, point_id, at))");
    }

    /** Answers the seconds until the samples are committed. */
    double copy(List<Scan> scans) throws SQLException, IOException {
        try (Connection connection = store.pool().getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute("SELECT 1");
            StringBuilder text = new StringBuilder();
            long startNs = System.nanoTime();
            CopyIn copy = connection
                    .unwrap(PGConnection.class)
                    .getCopyAPI()
                    .copyIn("COPY keyed (unit_id, point_id, at, value, quality) FROM STDIN");
            for (Scan scan : scans) {
                for (Sample sample : scan.samples()) {
                    text.append(number(scan.unit())).append('\t').append(number(sample.point()));
                    text.append('\t').append(sample.measuredAt()).append('\t').append(sample.valueSi());
                    text.append("\t0\n");
                }
                if (text.length() > CHUNK) {
                    send(copy, text);
                }
            }
            send(copy, text);
            copy.endCopy();
            return (System.nanoTime() - startNs) / 1e9;
        }
    }

    private int number(Object name) {
        return numbers.computeIfAbsent(name, n -> numbers.size());
    }

    private static void send(CopyIn copy, StringBuilder text) throws SQLException {
        byte[] bytes = text.toString().getBytes(StandardCharsets.US_ASCII);
        copy.writeToCopy(bytes, 0, bytes.length);
        text.setLength(0);
    }
}
