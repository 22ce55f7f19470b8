package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EmbeddedServerIT {

    private static final UnitId UNIT = new UnitId("E-07");
    private static final Instant NOON = Instant.parse("2026-11-18T12:00:00Z");

    @TempDir
    Path folder;

    @Test
    void keepsItsDataThroughARestartAndIsDurable() throws Exception {
        Sample sample = Sample.good(Points.TCS_FLOW, NOON, 0.03);
        try (EmbeddedStore server = EmbeddedStore.start(folder);
                SampleStore store = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
            store.store(List.of(new Scan(UNIT, NOON, List.of(sample))));
            for (String setting : List.of("fsync", "synchronous_commit", "full_page_writes")) {
                assertThat(show(server, setting)).as(setting).isEqualTo("on");
            }
            assertThat(show(server, "listen_addresses")).isEqualTo("127.0.0.1");
        }
        assertThat(Files.getPosixFilePermissions(folder.resolve("postgres-password")))
                .hasSize(2);
        try (EmbeddedStore server = EmbeddedStore.start(folder);
                SampleStore store = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
            assertThat(store.reader().latest(UNIT)).containsExactly(sample);
        }
    }

    private static String show(EmbeddedStore server, String setting) throws Exception {
        try (Connection connection = server.dataSource().getConnection();
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("SHOW " + setting)) {
            row.next();
            return row.getString(1);
        }
    }
}
