package io.loopwarden.spool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SpoolTest {

    private static final Instant NOON = Instant.parse("2026-11-18T12:00:00.123456789Z");
    private static final SpoolLimits SMALL = new SpoolLimits(20_000, 1_000);

    @TempDir
    Path folder;

    private static Scan scan(int number) {
        Instant at = NOON.plusSeconds(number);
        return new Scan(
                new UnitId("E-01"),
                at,
                List.of(
                        Sample.good(Points.TCS_FLOW, at, number),
                        new Sample(
                                Points.TCS_FLOW,
                                at.plusMillis(1),
                                RawValue.of(Long.MIN_VALUE + number),
                                new Conversion(6.30902e-5, -0.0, "[gal_us]/min"),
                                new Quality(Quality.Level.UNCERTAIN, 4_294_967_295L)),
                        new Sample(
                                Points.TCS_FLOW,
                                at.plusMillis(2),
                                RawValue.NONE,
                                new Conversion(1, 0, "m3/s"),
                                new Quality(Quality.Level.BAD, 7))));
    }

    private static List<Scan> scans(int from, int to) {
        return IntStream.range(from, to).mapToObj(SpoolTest::scan).toList();
    }

    private static List<Scan> drain(Spool spool) throws IOException {
        List<Scan> all = new ArrayList<>();
        while (!spool.isEmpty()) {
            Spool.Batch batch = spool.oldest(7);
            all.addAll(batch.scans());
            spool.stored(batch);
        }
        return all;
    }

    @Test
    void whatGoesInComesOutInOrderAndItsFilesAreGone() throws IOException {
        try (Spool spool = Spool.open(folder, SMALL)) {
            spool.append(scans(0, 20));
            List<Scan> out = new ArrayList<>(spool.oldest(10).scans());
            assertThat(out).isEqualTo(scans(0, 4)); // 3 samples each: the fourth reaches 10
            spool.stored(spool.oldest(10));
            spool.append(scans(20, 50));
            assertThat(spool.status().heldSamples()).isEqualTo(46 * 3);
            out.addAll(drain(spool));
            assertThat(out).isEqualTo(scans(0, 50));
            assertThat(spool.status().heldSamples()).isZero();
            assertThat(spool.status().heldBytes()).isZero();
        }
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files).isEmpty();
        }
    }

    @Test
    void aRestartFindsWhatWasHeld() throws IOException {
        try (Spool spool = Spool.open(folder, SMALL)) {
            for (int i = 0; i < 40; i += 4) {
                spool.append(scans(i, i + 4));
            }
        }
        try (Spool again = Spool.open(folder, SMALL)) {
            assertThat(again.status().heldSamples()).isEqualTo(40 * 3);
            again.append(scans(40, 44));
            assertThat(drain(again)).isEqualTo(scans(0, 44));
            assertThat(again.status().lostSamples()).isZero();
        }
    }

    @Test
    void anUnfinishedWriteIsCutOffWhereverItEnds() throws IOException {
        Path written = folder.resolve("written");
        try (Spool spool = Spool.open(written, SMALL)) {
            spool.append(scans(0, 3));
        }
        byte[] whole = Files.readAllBytes(only(written));
        for (int end = 0; end < whole.length; end += 5) {
            Path torn = Files.createDirectories(folder.resolve("torn-" + end));
            Files.write(torn.resolve(only(written).getFileName()), Arrays.copyOf(whole, end));
            try (Spool spool = Spool.open(torn, SMALL)) {
                spool.append(scans(10, 12));
                List<Scan> out = drain(spool);
                assertThat(out).endsWith(scan(10), scan(11));
                assertThat(out.subList(0, out.size() - 2)).isEqualTo(scans(0, out.size() - 2));
                assertThat(spool.status().damages()).isZero();
                assertThat(spool.status().lostSamples()).isZero();
            }
        }
    }

    @Test
    void aFlippedBitCostsOneScanAndIsCounted() throws IOException {
        Path written = folder.resolve("written");
        try (Spool spool = Spool.open(written, SMALL)) {
            spool.append(scans(0, 5));
        }
        byte[] whole = Files.readAllBytes(only(written));
        Random random = new Random();
        int firstEnd = Frame.read(ByteBuffer.wrap(whole), 0).bytes();
        int lastFrame = firstEnd;
        while (lastFrame + Frame.read(ByteBuffer.wrap(whole), lastFrame).bytes() < whole.length) {
            lastFrame += Frame.read(ByteBuffer.wrap(whole), lastFrame).bytes();
        }
        for (int n = 0; n < 60; n++) {
            byte[] flipped = whole.clone();
            int at = random.nextInt(lastFrame); // not in the last: without a frame after it, that is a torn write
            flipped[at] ^= (byte) (1 << random.nextInt(8));
            Path damaged = Files.createDirectories(folder.resolve("damaged-" + n));
            Files.write(damaged.resolve(only(written).getFileName()), flipped);
            try (Spool spool = Spool.open(damaged, SMALL)) {
                List<Scan> out = drain(spool);
                assertThat(out).as("bit in byte %d", at).hasSize(4);
                assertThat(scans(0, 5)).containsSubsequence(out);
                assertThat(spool.status().damages()).isEqualTo(1);
                assertThat(spool.status().lostSamples()).isEqualTo(at < firstEnd ? 0 : 3);
            }
        }
    }

    @Test
    void moreThanTheBoundIsRefusedAndNothingOfItKept() throws IOException {
        try (Spool spool = Spool.open(folder, SMALL)) {
            spool.append(scans(0, 100));
            long held = spool.status().heldBytes();
            assertThatThrownBy(() -> spool.append(scans(100, 300)))
                    .isInstanceOf(IOException.class)
                    .hasMessageContaining("of 20000 bytes, no room for");
            assertThat(spool.status().heldBytes()).isEqualTo(held);
            assertThat(drain(spool)).isEqualTo(scans(0, 100));
        }
    }

    @Test
    void bytesThatAreNoFramesAtAllAreSteppedOver() throws IOException {
        byte[] noise = new byte[5_000];
        new Random().nextBytes(noise);
        Files.write(folder.resolve("segment-000000000001"), noise, StandardOpenOption.CREATE);
        try (Spool spool = Spool.open(folder, SMALL)) {
            assertThat(spool.isEmpty()).isTrue();
            assertThat(spool.status().cutBytes()).isEqualTo(5_000);
        }
    }

    private static Path only(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.toList().get(0);
        }
    }
}
