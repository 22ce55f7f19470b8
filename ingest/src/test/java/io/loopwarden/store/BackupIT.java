package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.Statement;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is backed up is there after a restore on another server, and a changed audit trail shows there too. */
class BackupIT {

    private static final UnitId UNIT = new UnitId("E-01");
    private static final Instant NOW = Instant.now().truncatedTo(ChronoUnit.MILLIS);
    private static final Instant BEGIN = NOW.minus(Duration.ofDays(15));

    @TempDir
    Path folder;

    @Test
    void aRestoreOnAnotherServerHasEverySampleAndGoesOnFromThere() throws Exception {
        Path file = folder.resolve("backup.zip");
        List<Sample> before;
        try (EmbeddedStore server = EmbeddedStore.start(folder.resolve("one"));
                SampleStore store = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
            store.store(scans(500));
            store.closeDueHours();
            new PeopleTable(server.dataSource())
                    .put(new PersonRow("mara", "engineer", true, Optional.of("hash"), Optional.empty(), NOW, "test"));
            AuditTable trail = trail(server, "one");
            for (int i = 0; i < 5; i++) {
                trail.append("mara", "POST /api/v1/x", "x", "number " + i);
            }
            before = samples(store);

            StoreBackup.write(server.dataSource(), file);
        }
        assertThat(before).hasSize(500);
        Files.copy(folder.resolve("one-head"), folder.resolve("two-head"));

        try (EmbeddedStore server = EmbeddedStore.start(folder.resolve("two"))) {
            StoreBackup.restore(file, server.dataSource());
            try (SampleStore store = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
                assertThat(samples(store)).isEqualTo(before);
                assertThat(store.store(scans(500)).stored())
                        .as("all known already")
                        .isEqualTo(0);
                store.store(List.of(new Scan(UNIT, NOW, List.of(Sample.good(Points.TCS_FLOW, NOW, 1)))));
                assertThat(samples(store)).hasSize(501);
            }
            assertThat(new PeopleTable(server.dataSource()).people())
                    .extracting(PersonRow::name)
                    .containsExactly("mara");
            changesInTheTrailShow(server);
            assertThatThrownBy(() -> StoreBackup.restore(file, server.dataSource()))
                    .isInstanceOf(IOException.class)
                    .hasMessageContaining("not empty");
        }
    }

    private void changesInTheTrailShow(EmbeddedStore server) throws Exception {
        AuditTable trail = trail(server, "two");
        assertThat(trail.check()).isEqualTo(new AuditCheck(5, trail.check().lastHash(), Optional.empty()));
        try (Connection connection = server.dataSource().getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute("DELETE FROM audit_entry WHERE number = 5");
            assertThat(trail.check().fault())
                    .hasValueSatisfying(f -> assertThat(f).contains("after 4 are missing"));
            trail.append("mara", "POST /api/v1/x", "x", "number 5");
            assertThat(trail.check().fault())
                    .hasValueSatisfying(f -> assertThat(f).contains("entry 5 is missing"));
            statement.execute("UPDATE audit_entry SET who = 'ivo' WHERE number = 2");
            assertThat(trail.check().fault())
                    .hasValueSatisfying(f -> assertThat(f).contains("entry 2 was changed"));
        }
    }

    private AuditTable trail(EmbeddedStore server, String name) {
        return new AuditTable(server.dataSource(), folder.resolve(name + "-head"), Clock.systemUTC());
    }

    /** Over a fortnight, so that several partitions are needed. */
    private static List<Scan> scans(int count) {
        Random random = new Random(7);
        List<Scan> scans = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            Instant at = BEGIN.plus(Duration.ofMinutes(40L * i));
            scans.add(new Scan(UNIT, at, List.of(Sample.good(Points.TCS_FLOW, at, random.nextDouble()))));
        }
        return scans;
    }

    private static List<Sample> samples(SampleStore store) throws Exception {
        List<Sample> all = new ArrayList<>();
        store.reader().samples(UNIT, BEGIN.minusSeconds(1), NOW.plusSeconds(3_600), all::add);
        return all;
    }
}
