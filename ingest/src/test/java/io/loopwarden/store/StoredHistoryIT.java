package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.replay.Recorded;
import io.loopwarden.replay.Replay;
import io.loopwarden.replay.ReplayException;
import io.loopwarden.replay.ResultFile;
import io.loopwarden.watch.UnitWatch;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class StoredHistoryIT {

    private static final Instant EVER = Instant.parse("2099-01-01T00:00:00Z");

    @TempDir
    static Path folder;

    /** Beside the server as its owner runs it, as an operator would replay from a running service. */
    @Test
    void storedHistoryGivesTheRowsThatLiveGaveToTheLastBit() throws Exception {
        Recorded recorded = new Recorded(8);
        Unit unit = Recorded.unit("E-07");
        UnitWatch live = new UnitWatch(unit);
        List<String> expected = new ArrayList<>();
        try (EmbeddedStore server = EmbeddedStore.start(folder);
                SampleStore store = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
            for (int row = 0; row < recorded.rows(); row++) {
                List<Sample> samples = recorded.samples(row);
                store.store(List.of(new Scan(unit.id(), samples.get(0).measuredAt(), samples)));
                samples.forEach(live::accept);
                if (row % 15 == 0) {
                    expected.addAll(ResultFile.rows(live.evaluate(samples.get(0).measuredAt())));
                }
            }
            List<String> got = new ArrayList<>();
            try (StoredHistory history = StoredHistory.open(folder.toString(), unit.id(), Instant.EPOCH, EVER)) {
                Replay replay = new Replay(
                        new UnitWatch(unit),
                        Duration.ofMinutes(15),
                        history.maintenance(),
                        figures -> got.addAll(ResultFile.rows(figures)));
                history.samples(replay::accept);
                replay.finish();
                assertThat(history.doneRatio()).isEqualTo(1);
            }
            assertThat(got).containsExactlyElementsOf(expected);
            assertThatThrownBy(() -> StoredHistory.open(folder.toString(), new UnitId("E-99"), Instant.EPOCH, EVER))
                    .isInstanceOf(ReplayException.class)
                    .hasMessageStartingWith("no sample of E-99 is stored");
        }
    }
}
