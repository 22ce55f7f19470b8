package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.samplelog.StoredCounts;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.Period;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import javax.sql.DataSource;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The contract on a real TimescaleDB, and what only it has to do. */
class TimescaleStoreIT extends StoreContract {

    private static TimescaleServer server;

    @BeforeAll
    static void start() throws Exception {
        Optional<String> missing = TimescaleServer.missing();
        missing.ifPresent(System.out::println);
        assumeTrue(missing.isEmpty(), () -> missing.orElse(""));
        server = TimescaleServer.start();
    }

    @AfterAll
    static void stop() throws Exception {
        if (server != null) {
            server.close();
        }
    }

    @Override
    DataSource database() {
        return server.dataSource();
    }

    @Override
    StoreSettings settings() {
        return noSettling(StoreSettings.DEFAULT).withoutCopy();
    }

    private void execute(String sql) throws SQLException {
        try (Connection connection = database().getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    @Test
    void compressedFramesReadTheSameAndTakeLateSamples() throws Exception {
        assertThat(store.flavour()).isEqualTo(Flavour.TIMESCALE);
        Sample first = sample(Points.TCS_FLOW, NOON, 500.125);
        Sample second = sample(Points.TCS_FLOW, NOON.plusSeconds(2), -0.0);
        put(first, second);
        assertThat(count("SELECT count(compress_chunk(c)) FROM show_chunks('frame') c"))
                .isEqualTo(1);
        assertThat(all()).containsExactly(first, second);
        Sample late = sample(Points.TCS_FLOW, NOON.plusSeconds(1), 1.0 / 3);
        assertThat(put(second, late)).isEqualTo(new StoredCounts(1, 1, 0, 1, 0));
        assertThat(all()).containsExactly(first, late, second);
        clock.set(NOON.plusSeconds(7200));
        assertThat(store.closeDueHours()).isEqualTo(1);
        assertThat(all()).containsExactly(first, late, second);
        assertThat(put(first, late, second)).isEqualTo(new StoredCounts(0, 3, 0, 0, 0));
    }

    @Test
    void compressedHoursTakeAtMostThreeBytesASample() throws Exception {
        Random random = new Random(3);
        List<Scan> scans = new ArrayList<>();
        for (int second = 0; second < 2 * 3600; second++) {
            scans.add(scanOf40(random, NOON.plusSeconds(second)));
        }
        store.store(scans);
        clock.set(NOON.plusSeconds(4 * 3600));
        assertThat(store.closeDueHours()).isEqualTo(2);
        execute("SELECT compress_chunk(c) FROM show_chunks('frame') c");
        double bytes = count("SELECT after_compression_total_bytes FROM hypertable_compression_stats('frame')");
        double samples = count("SELECT sum(sample_count) FROM frame");
        System.out.printf("bytes a sample, TimescaleDB compressed: %.2f%n", bytes / samples);
        assertThat(samples).isEqualTo(2 * 3600 * 40);
        assertThat(bytes / samples).isLessThanOrEqualTo(3);
    }

    @Test
    void policiesCompressAndDropWhatIsOld() throws Exception {
        Instant now = Instant.now();
        Sample old = sample(Points.TCS_FLOW, now.minus(Period.ofDays(450)), 1);
        Sample older = sample(Points.TCS_FLOW, now.minus(Period.ofDays(30)), 2);
        Sample fresh = sample(Points.TCS_FLOW, now, 3);
        put(old, older, fresh);
        for (String policy : List.of("policy_retention", "policy_compression")) {
            long job = count("SELECT job_id FROM timescaledb_information.jobs WHERE proc_name = '" + policy
                    + "' AND hypertable_name = 'frame'");
            execute("CALL run_job(" + job + ")");
        }
        assertThat(all()).containsExactly(older, fresh);
        assertThat(count("SELECT count(*) FROM timescaledb_information.chunks"
                        + " WHERE hypertable_name = 'frame' AND is_compressed"))
                .isEqualTo(1);
    }
}
