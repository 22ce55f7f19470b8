package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.UnitId;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A writer in a process of its own is killed again and again; what it acknowledged is there once. */
class KillWriterIT {

    private static final int ROUNDS = 5;
    /** Sent again after each kill, as a source does that did not see the acknowledgement. */
    private static final int SENT_AGAIN = 300;

    @TempDir
    Path folder;

    @Test
    @Timeout(540)
    void whatWasAcknowledgedBeforeTheKillIsStoredExactlyOnce() throws Exception {
        Random random = new Random();
        TreeSet<Integer> acknowledged = new TreeSet<>();
        for (int round = 0; round < ROUNDS; round++) {
            int first = acknowledged.isEmpty() ? 0 : Math.max(0, acknowledged.last() - SENT_AGAIN);
            int killAfter = 100 + random.nextInt(2000);
            int heard = writeAndKill(first, killAfter, acknowledged);
            assertThat(heard).as("round %d was ended by the kill", round).isGreaterThanOrEqualTo(killAfter);
        }
        try (EmbeddedStore server = EmbeddedStore.start(folder);
                SampleStore store = SampleStore.open(
                        server.dataSource(), StoreContract.noSettling(StoreSettings.DEFAULT), Clock.systemUTC())) {
            assertStoredOnce(store, acknowledged);
            store.closeDueHours();
            assertStoredOnce(store, acknowledged);
        }
    }

    /** Kills the writer after so many acknowledgements; those that it printed before it died count too. Returns how many. */
    private int writeAndKill(int first, int killAfter, TreeSet<Integer> acknowledged) throws IOException {
        Process writer = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Xmx256m",
                        "-cp",
                        System.getProperty("java.class.path"),
                        KilledWriter.class.getName(),
                        folder.toString(),
                        Integer.toString(first))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        int heard = 0;
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(writer.getInputStream(), StandardCharsets.UTF_8))) {
            for (String line = out.readLine(); line != null; line = out.readLine()) {
                // A line may be cut by the kill; a shorter number was acknowledged before as well.
                if (line.matches("[0-9]+")) {
                    acknowledged.add(Integer.parseInt(line));
                    if (++heard == killAfter) {
                        // By its handle: what it wrote before it died can still be read.
                        writer.toHandle().destroyForcibly();
                    }
                }
            }
        } finally {
            writer.destroyForcibly();
        }
        return heard;
    }

    private static void assertStoredOnce(SampleStore store, TreeSet<Integer> acknowledged) throws Exception {
        TreeSet<Integer> stored = new TreeSet<>();
        for (int u = 0; u < KilledWriter.UNITS; u++) {
            List<Sample> samples = new ArrayList<>();
            store.reader()
                    .samples(new UnitId("K-" + u), Instant.EPOCH, Instant.parse("2099-01-01T00:00:00Z"), samples::add);
            for (int i = 0; i < samples.size(); i += 2) {
                int n = (int) samples.get(i).valueSi();
                assertThat(samples.subList(i, i + 2))
                        .containsExactlyInAnyOrderElementsOf(
                                KilledWriter.scan(n).samples());
                assertThat(stored.add(n)).as("scan %d is there once", n).isTrue();
            }
        }
        assertThat(stored).containsAll(acknowledged);
    }
}
