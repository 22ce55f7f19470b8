package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.samplelog.LogLimits;
import io.loopwarden.samplelog.QueuedSampleLog;
import io.loopwarden.samplelog.StoredCounts;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.Period;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import javax.sql.DataSource;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.postgresql.ds.PGSimpleDataSource;

/** The contract on the embedded PostgreSQL, and what only it has to do. */
class EmbeddedStoreIT extends StoreContract {

    @TempDir
    static Path folder;

    private static EmbeddedStore server;

    @BeforeAll
    static void start() throws IOException {
        server = EmbeddedStore.start(folder);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    @Override
    DataSource database() {
        return server.dataSource();
    }

    @Override
    StoreSettings settings() {
        return noSettling(StoreSettings.DEFAULT);
    }

    @Test
    void aSecondWriterIsRefusedWithItsReason() {
        assertThatThrownBy(() -> SampleStore.open(database(), settings(), clock))
                .isInstanceOf(SQLException.class)
                .hasMessageContaining("another process writes samples to this database (server process ");
    }

    @Test
    void aConnectionCutAtAnyMomentLosesAndRepeatsNothing() throws Exception {
        LogLimits small = new LogLimits(
                500,
                Duration.ofSeconds(60),
                40,
                Duration.ofMillis(1),
                Duration.ofMillis(5),
                Duration.ofMillis(50),
                10,
                Duration.ofSeconds(10));
        List<Sample> given = new ArrayList<>();
        List<CompletableFuture<Void>> stored = new ArrayList<>();
        try (QueuedSampleLog log = new QueuedSampleLog(store, small)) {
            for (int second = 0; second < 4000; second++) {
                given.add(sample(Points.TCS_FLOW, NOON.plusSeconds(second), second));
                stored.add(log.append(new Scan(UNIT, NOON, given.subList(second, second + 1))));
                if (second % 250 == 0) {
                    count(CUT_THE_WRITER);
                }
            }
            stored.forEach(CompletableFuture::join);
            assertThat(log.status().failures()).isPositive();
        }
        assertThat(all()).isEqualTo(given);
    }

    private static final String CUT_THE_WRITER = """
            SELECT count(pg_terminate_backend(pid))
            FROM pg_stat_activity
            WHERE application_name = 'loopwarden' AND pid <> pg_backend_pid()""";

    @Test
    void withoutThePasswordNobodyGetsIn() {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setPortNumbers(new int[] {server.port()});
        source.setServerNames(new String[] {"127.0.0.1"});
        source.setDatabaseName("postgres");
        source.setUser("postgres");
        source.setPassword("guess");
        assertThatThrownBy(source::getConnection).hasMessageContaining("password authentication failed");
    }

    @Test
    void partitionsAreMadeAsTimeGoesOnAndDroppedWhenOld() throws Exception {
        Instant old = NOON.minus(Period.ofDays(399));
        put(sample(Points.TCS_FLOW, old, 1), sample(Points.TCS_FLOW, NOON, 2));
        put(sample(Points.TCS_FLOW, NOON.plus(Duration.ofDays(15)), 3));
        assertThat(all()).hasSize(3);
        assertThat(count(PARTITIONS)).isEqualTo(4);
        clock.set(NOON.plus(Duration.ofDays(15)));
        store.keepUp();
        assertThat(all()).extracting(sample -> sample.measuredAt()).first().isEqualTo(NOON);
        assertThat(count(PARTITIONS)).isEqualTo(4);
        assertThat(put(sample(Points.TCS_FLOW, old, 1))).isEqualTo(new StoredCounts(1, 0, 0, 1, 0));
    }

    @Test
    void framesAsTheyComeLiveTakeAtMostEightBytesASample() throws Exception {
        Random random = new Random(3);
        long empty = count(SIZE);
        for (int second = 0; second < 1000; second++) {
            store.store(List.of(scanOf40(random, NOON.plusSeconds(second))));
        }
        double samples = count("SELECT sum(sample_count) FROM frame");
        double live = (count(SIZE) - empty) / samples;
        clock.set(NOON.plus(Duration.ofHours(2)));
        store.closeDueHours();
        try (Connection connection = database().getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute("VACUUM FULL frame");
        }
        double closed = (count(SIZE) - empty) / samples;
        System.out.printf("bytes a sample, PostgreSQL: %.2f live, %.2f closed%n", live, closed);
        assertThat(live).isLessThanOrEqualTo(8);
        assertThat(closed).isLessThanOrEqualTo(3);
    }

    private static final String SIZE =
            "SELECT sum(pg_total_relation_size(relid))::bigint FROM pg_partition_tree('frame') WHERE isleaf";

    private static final String PARTITIONS = "SELECT count(*) FROM pg_inherits WHERE inhparent = 'frame'::regclass";
}
