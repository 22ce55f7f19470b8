package io.loopwarden.store.backfill;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetfile.FleetFolder;
import io.loopwarden.replay.Recorded;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.FigureSettings;
import io.loopwarden.store.FigureStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import io.loopwarden.store.UnitMemories;
import io.loopwarden.watch.UnitMemory;
import io.loopwarden.watch.UnitWatch;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A past brought in from a file, on a real store. */
class BackfillIT {

    private static final Path FLEET = Path.of("src", "test", "resources", "fleet");
    private static final UnitId UNIT = new UnitId("E-01");
    private static final int HOURS = 30;

    @TempDir
    Path folder;

    private record Kept(List<Sample> samples, long figures, UnitMemory memory) {}

    @Test
    void samplesFiguresAndMemoryAreThereAndComeOnce() throws Exception {
        Recorded recorded = new Recorded(HOURS);
        Path past = Files.createDirectories(folder.resolve("past"));
        recorded.write(past.resolve("E-01.csv"));

        String told = fill(past);
        Kept first = kept();
        assertThat(told).contains("1 of 1: E-01");
        assertThat(first.samples())
                .hasSize(recorded.rows() * recorded.samples(0).size());
        assertThat(first.figures()).as("a figure every quarter of an hour").isBetween(4L * HOURS - 2, 4L * HOURS + 2);
        assertThat(first.memory().fouling().orElseThrow().learning()).isNotEmpty();

        fill(past);
        assertThat(kept()).isEqualTo(first);
    }

    @Test
    void aFolderWithoutAFileOfAUnitIsSaid() {
        assertThat(BackfillMain.run(
                        List.of(folder.toString(), "--fleet", FLEET.toString(), "--store", "unused"), System.err))
                .isEqualTo(2);
    }

    private String fill(Path past) {
        ByteArrayOutputStream told = new ByteArrayOutputStream();
        int exit = BackfillMain.run(
                List.of(past.toString(), "--fleet", FLEET.toString(), "--store", storeFolder()),
                new PrintStream(told, true, StandardCharsets.UTF_8));
        assertThat(exit).as(told.toString(StandardCharsets.UTF_8)).isZero();
        return told.toString(StandardCharsets.UTF_8);
    }

    private String storeFolder() {
        return folder.resolve("store").toString();
    }

    private Kept kept() throws Exception {
        UnitMemory fresh = new UnitWatch(FleetFolder.load(FLEET).units().stream()
                        .filter(unit -> unit.id().equals(UNIT))
                        .findFirst()
                        .orElseThrow())
                .memory();
        try (EmbeddedStore own = EmbeddedStore.start(Path.of(storeFolder()));
                SampleStore store = SampleStore.open(own.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
            List<Sample> samples = new ArrayList<>();
            store.reader().samples(UNIT, Recorded.START, Recorded.START.plus(Duration.ofHours(HOURS)), samples::add);
            long figures = new FigureStore(own.dataSource(), store.flavour(), FigureSettings.DEFAULT, Clock.systemUTC())
                            .reader()
                            .series(
                                    UNIT,
                                    "approach",
                                    Recorded.START,
                                    Recorded.START.plus(Duration.ofHours(HOURS)),
                                    10 * HOURS)
                            .buckets()
                            .stream()
                            .mapToLong(bucket -> bucket.values() + bucket.gaps())
                            .sum();
            UnitMemory memory = new UnitMemories(own.dataSource())
                    .load(UNIT, fresh)
                    .orElseThrow()
                    .memory();
            return new Kept(samples, figures, memory);
        }
    }
}
