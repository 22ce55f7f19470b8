package io.loopwarden.store;

import static io.loopwarden.fleet.Points.FWS_FLOW;
import static io.loopwarden.fleet.Points.TCS_FLOW;
import static io.loopwarden.fleet.Points.TCS_SUPPLY_TEMPERATURE;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Scan;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.StoredCounts;
import io.loopwarden.watch.UnitMemory;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import javax.sql.DataSource;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What every database must do; run on a real PostgreSQL and on a real TimescaleDB. */
abstract class StoreContract {

    static final Instant NOON = Instant.parse("2026-11-18T12:00:00Z");
    static final UnitId UNIT = new UnitId("E-07");
    static final PointName COUNTER = PointName.of("pump.1.starts");
    static final Conversion GPM = new Conversion(6.30901964e-5, 0, "[gal_us]/min");

    final ManualClock clock = new ManualClock(NOON);
    SampleStore store;

    abstract DataSource database();

    abstract StoreSettings settings();

    @BeforeEach
    void openStore() throws Exception {
        try (Connection connection = database().getConnection()) {
            Emptied.empty(connection);
        }
        store = SampleStore.open(database(), settings(), clock);
    }

    @AfterEach
    void closeStore() {
        if (store != null) {
            store.close();
        }
    }

    static StoreSettings noSettling(StoreSettings base) {
        return new StoreSettings(
                base.bulkCopy(),
                base.timescale(),
                base.closeAfter(),
                Duration.ZERO,
                base.keepSamples(),
                base.keepMinutes(),
                base.keepHours(),
                base.compressAfter(),
                base.networkTimeout());
    }

    @Test
    void figuresAreReadBackByMinuteAndByHour() throws Exception {
        put(sample(TCS_FLOW, NOON, 500));
        new FigureCases(database(), store.flavour(), clock, UNIT).minutesThenHours();
    }

    @Test
    void maintenanceEntriesAreOnlyEverAdded() throws Exception {
        new MaintenanceCases(database(), UNIT).onlyAdded();
    }

    @Test
    void alarmsMessagesAndPlansAreKept() throws Exception {
        new AlarmCases(database()).kept();
    }

    void reopen() throws SQLException {
        store.close();
        store = SampleStore.open(database(), settings(), clock);
    }

    StoredCounts put(Sample... samples) throws Exception {
        return store.store(List.of(new Scan(UNIT, clock.instant(), List.of(samples))));
    }

    List<Sample> all() throws SQLException {
        List<Sample> read = new ArrayList<>();
        store.reader().samples(UNIT, Instant.EPOCH, Instant.parse("2200-01-01T00:00:00Z"), read::add);
        return read;
    }

    /** A scan of 40 points with random values of three decimals. */
    static Scan scanOf40(Random random, Instant at) {
        List<Sample> samples = new ArrayList<>();
        for (int n = 1; n <= 10; n++) {
            for (String kind : List.of("speed", "power", "dp", "run-time")) {
                PointName point = PointName.of("pump." + n + "." + kind);
                samples.add(Sample.good(point, at, random.nextInt(100_000) / 1000.0));
            }
        }
        return new Scan(UNIT, at, samples);
    }

    static Sample sample(PointName point, Instant at, double raw) {
        return new Sample(point, at, RawValue.of(raw), GPM, Quality.GOOD);
    }

    long count(String sql) throws SQLException {
        try (Connection connection = database().getConnection();
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getLong(1);
        }
    }

    @Test
    void whatTheSourceSaidComesBackToTheBit() throws Exception {
        Quality coded = new Quality(Quality.Level.UNCERTAIN, 0x40920000L);
        Quality worst = new Quality(Quality.Level.BAD, 0xFFFF_FFFFL);
        List<Sample> given = List.of(
                new Sample(COUNTER, NOON.plusNanos(1), RawValue.of(-1L), Conversion.none(COUNTER.quantity()), coded),
                sample(TCS_FLOW, NOON.plusNanos(2), -0.0),
                new Sample(TCS_FLOW, NOON.plusSeconds(1), RawValue.NONE, GPM, worst),
                sample(TCS_FLOW, NOON.plusSeconds(2), Double.MIN_VALUE),
                sample(TCS_FLOW, NOON.plusSeconds(3), 499.999),
                new Sample(TCS_FLOW, NOON.plusSeconds(3599), RawValue.of(Long.MAX_VALUE), GPM, Quality.GOOD),
                sample(TCS_FLOW, NOON.plusSeconds(3600), 1.0 / 3));
        StoredCounts counts = put(given.toArray(Sample[]::new));
        assertThat(counts).isEqualTo(new StoredCounts(7, 0, 0, 0, 0));
        assertThat(all()).isEqualTo(given);
        List<Sample> flow = new ArrayList<>();
        store.reader().samples(UNIT, TCS_FLOW, NOON.plusSeconds(1), NOON.plusSeconds(3599), flow::add);
        assertThat(flow).isEqualTo(given.subList(2, 5));
    }

    @Test
    void aSampleGivenAgainIsStoredOnce() throws Exception {
        Sample first = sample(TCS_FLOW, NOON, 500);
        Sample second = sample(TCS_FLOW, NOON.plusSeconds(1), 501);
        assertThat(put(first, second, first)).isEqualTo(new StoredCounts(2, 1, 0, 0, 0));
        assertThat(put(first, second)).isEqualTo(new StoredCounts(0, 2, 0, 0, 0));
        reopen();
        assertThat(put(second, first, sample(TCS_FLOW, NOON.plusSeconds(2), 502)))
                .isEqualTo(new StoredCounts(1, 2, 0, 0, 0));
        assertThat(all()).containsExactly(first, second, sample(TCS_FLOW, NOON.plusSeconds(2), 502));
    }

    @Test
    void ofTwoValuesForOnePointAndTimeTheFirstStays() throws Exception {
        Sample first = sample(TCS_FLOW, NOON, 500);
        Sample otherValue = sample(TCS_FLOW, NOON, 501);
        Sample otherQuality = new Sample(TCS_FLOW, NOON, first.raw(), GPM, new Quality(Quality.Level.UNCERTAIN, 0));
        assertThat(put(first, otherValue)).isEqualTo(new StoredCounts(1, 0, 1, 0, 0));
        reopen();
        assertThat(put(otherValue, otherQuality)).isEqualTo(new StoredCounts(0, 0, 2, 0, 0));
        assertThat(all()).containsExactly(first);
    }

    @Test
    void lateSamplesTakeTheirPlace() throws Exception {
        put(sample(TCS_FLOW, NOON.plusSeconds(10), 1), sample(FWS_FLOW, NOON.plusSeconds(5), 2));
        Sample late = sample(TCS_FLOW, NOON.minusSeconds(7200), 3);
        // Another point has its own order: this is not late.
        Sample notLate = sample(FWS_FLOW, NOON.plusSeconds(6), 4);
        assertThat(put(late, notLate)).isEqualTo(new StoredCounts(2, 0, 0, 1, 0));
        assertThat(put(late, notLate)).isEqualTo(new StoredCounts(0, 2, 0, 0, 0));
        assertThat(all()).first().isEqualTo(late);
        assertThat(all()).hasSize(4);
    }

    @Test
    void timesThatCannotBeAreRefusedAndCounted() throws Exception {
        assertThat(put(sample(TCS_FLOW, Instant.EPOCH, 1), sample(TCS_FLOW, Instant.MAX, 1), sample(TCS_FLOW, NOON, 1)))
                .isEqualTo(new StoredCounts(1, 0, 0, 0, 2));
        assertThat(all()).hasSize(1);
    }

    @Test
    void aChangedPointMapChangesNothingThatIsStored() throws Exception {
        Conversion litres = new Conversion(1.0 / 60_000, 0, "L/min");
        Sample before = sample(TCS_FLOW, NOON, 500);
        Sample after = new Sample(TCS_FLOW, NOON.plusSeconds(1), RawValue.of(1900.0), litres, Quality.GOOD);
        Sample back = sample(TCS_FLOW, NOON.plusSeconds(2), 502);
        Sample added = sample(FWS_FLOW, NOON.plusSeconds(2), 300);
        assertThat(put(before, after, back, added, before).stored()).isEqualTo(4);
        assertThat(all()).containsExactly(before, after, added, back);
        clock.set(NOON.plusSeconds(7200));
        assertThat(store.closeDueHours()).isEqualTo(1);
        assertThat(all()).containsExactly(before, after, added, back);
        Bucket hour = store.reader()
                .series(UNIT, TCS_FLOW, NOON, NOON.plusSeconds(3600), 1)
                .buckets()
                .get(0);
        assertThat(hour.count()).isEqualTo(3);
        assertThat(hour.maxSi()).isEqualTo(Math.max(after.valueSi(), back.valueSi()));
        assertThat(hour.lastSi()).isEqualTo(back.valueSi());
        assertThat(put(before, after, back)).isEqualTo(new StoredCounts(0, 3, 0, 0, 0));
    }

    @Test
    void latestIsTheNewestSampleOfEachPoint() throws Exception {
        put(sample(TCS_SUPPLY_TEMPERATURE, NOON.minus(Duration.ofHours(30)), 30));
        Sample flow = sample(TCS_FLOW, NOON.plusSeconds(50), 2);
        put(sample(FWS_FLOW, NOON.plusSeconds(1), 1), flow);
        Sample newest = sample(FWS_FLOW, NOON.plusSeconds(99), 1.5);
        put(sample(FWS_FLOW, NOON.plusSeconds(2), 1.1), newest);
        put(sample(FWS_FLOW, NOON.plusSeconds(60), 1.2), sample(TCS_FLOW, NOON.plusSeconds(3), 2.1));
        List<Sample> expected =
                List.of(newest, flow, sample(TCS_SUPPLY_TEMPERATURE, NOON.minus(Duration.ofHours(30)), 30));
        assertThat(store.reader().latest(UNIT)).isEqualTo(expected);
        clock.set(NOON.plusSeconds(7200));
        store.closeDueHours();
        put(sample(FWS_FLOW, NOON.plusSeconds(70), 1.3));
        assertThat(store.reader().latest(UNIT)).isEqualTo(expected);
        assertThat(store.reader().latest(new UnitId("unknown"))).isEmpty();
    }

    @Test
    void rollUpsAreRightBeforeAndAfterClosingAndAfterLateSamples() throws Exception {
        Random random = new Random(7);
        List<Sample> given = new ArrayList<>();
        for (int second = 0; second < 5 * 3600; second += 7) {
            given.add(randomSample(random, NOON.plusSeconds(second).plusNanos(random.nextInt(1_000_000_000))));
        }
        List<Sample> lateOnes = new ArrayList<>();
        given.removeIf(sample -> random.nextInt(5) == 0 && lateOnes.add(sample));
        for (int from = 0; from < given.size(); from += 100) {
            put(given.subList(from, Math.min(from + 100, given.size())).toArray(Sample[]::new));
        }
        clock.set(NOON.plus(Duration.ofMinutes(4 * 60 + 30)));
        assertRollups(given);
        assertThat(store.closeDueHours()).isEqualTo(4);
        assertRollups(given);
        Collections.shuffle(lateOnes, random);
        StoredCounts counts = put(lateOnes.toArray(Sample[]::new));
        assertThat(counts.stored()).isEqualTo(lateOnes.size());
        given.addAll(lateOnes);
        assertRollups(given);
        assertThat(store.closeDueHours()).isEqualTo(4);
        assertThat(store.closeDueHours()).isZero();
        assertRollups(given);
        given.sort(Comparator.comparing(Sample::measuredAt));
        assertThat(all()).isEqualTo(given);
        assertThat(count("SELECT count(*) FROM frame WHERE start_at < '2026-11-18T16:00:00Z'"))
                .isEqualTo(4);
    }

    @Test
    void lateSamplesThatComeWhileTheirHourIsClosedAreInTheRollUps() throws Exception {
        Random random = new Random(11);
        List<Sample> given = new ArrayList<>();
        for (int second = 0; second < 5 * 3600; second += 20) {
            given.add(randomSample(random, NOON.plusSeconds(second)));
        }
        clock.set(NOON.plus(Duration.ofHours(8)));
        Collections.shuffle(given, random);
        AtomicBoolean written = new AtomicBoolean();
        AtomicInteger closed = new AtomicInteger();
        CompletableFuture<Void> closing = CompletableFuture.runAsync(() -> {
            try {
                while (!written.get()) {
                    closed.addAndGet(store.closeDueHours());
                }
                closed.addAndGet(store.closeDueHours());
            } catch (SQLException e) {
                throw new IllegalStateException(e);
            }
        });
        try {
            for (int from = 0; from < given.size(); from += 90) {
                put(given.subList(from, from + 90).toArray(Sample[]::new));
                int before = closed.get();
                // every other batch meets hours that were closed since the last one
                if (from % 180 == 0) {
                    await().until(() -> closing.isDone() || closed.get() > before);
                }
            }
        } finally {
            written.set(true);
        }
        closing.get(60, TimeUnit.SECONDS);
        assertThat(closed.get()).isGreaterThan(5);
        assertThat(count("SELECT count(*) FROM hour_due")).isZero();
        assertRollups(given);
        given.sort(Comparator.comparing(Sample::measuredAt));
        assertThat(all()).isEqualTo(given);
    }

    private static Sample randomSample(Random random, Instant at) {
        Quality.Level level = random.nextInt(4) > 0 ? Quality.Level.GOOD : Quality.Level.values()[random.nextInt(3)];
        boolean none = level == Quality.Level.BAD && random.nextBoolean();
        RawValue raw = none ? RawValue.NONE : RawValue.of(random.nextInt(100_000) / 1000.0);
        return new Sample(TCS_FLOW, at, raw, GPM, new Quality(level, random.nextInt(2)));
    }

    private void assertRollups(List<Sample> given) throws SQLException {
        Instant to = NOON.plus(Duration.ofHours(5));
        for (Duration step : List.of(
                Duration.ofSeconds(30),
                Duration.ofMinutes(1),
                Duration.ofMinutes(20),
                Duration.ofHours(1),
                Duration.ofHours(2))) {
            int width = (int) Duration.ofHours(6).dividedBy(step);
            Series series = store.reader().series(UNIT, TCS_FLOW, NOON.minusSeconds(3600), to, width);
            assertThat(series.step()).isEqualTo(step);
            assertSame(series.buckets(), bruteForce(given, step));
        }
    }

    private static List<Bucket> bruteForce(List<Sample> given, Duration step) {
        TreeMap<Long, List<Sample>> byBucket = new TreeMap<>();
        for (Sample sample : given) {
            byBucket.computeIfAbsent(sample.measuredAt().getEpochSecond() / step.toSeconds(), b -> new ArrayList<>())
                    .add(sample);
        }
        List<Bucket> buckets = new ArrayList<>();
        byBucket.forEach((bucket, samples) -> {
            samples.sort(Comparator.comparing(Sample::measuredAt));
            List<Sample> usable = samples.stream()
                    .filter(sample -> sample.quality().level() != Quality.Level.BAD)
                    .toList();
            double[] si = usable.stream().mapToDouble(Sample::valueSi).toArray();
            buckets.add(new Bucket(
                    Instant.ofEpochSecond(bucket * step.toSeconds()),
                    si.length,
                    usable.stream().filter(sample -> sample.quality().isGood()).count(),
                    samples.size() - si.length,
                    java.util.Arrays.stream(si).min().orElse(0),
                    java.util.Arrays.stream(si).max().orElse(0),
                    java.util.Arrays.stream(si).average().orElse(0),
                    si.length == 0 ? 0 : si[si.length - 1]));
        });
        return buckets;
    }

    private static void assertSame(List<Bucket> read, List<Bucket> expected) {
        assertThat(read)
                .extracting(Bucket::start)
                .isEqualTo(expected.stream().map(Bucket::start).toList());
        for (int i = 0; i < read.size(); i++) {
            Bucket a = read.get(i);
            Bucket b = expected.get(i);
            assertThat(List.of(a.count(), a.goodCount(), a.badCount()))
                    .as("%s", b)
                    .isEqualTo(List.of(b.count(), b.goodCount(), b.badCount()));
            if (b.hasValue()) {
                assertThat(new double[] {a.minSi(), a.maxSi(), a.lastSi()})
                        .as("%s", b)
                        .isEqualTo(new double[] {b.minSi(), b.maxSi(), b.lastSi()});
                // The order of adding differs: equal within some last bits.
                assertThat(a.meanSi()).isCloseTo(b.meanSi(), org.assertj.core.data.Percentage.withPercentage(1e-10));
            }
        }
    }

    @Test
    void memoriesComeBackToTheLastBitAndTheNewestCounts() throws SQLException {
        UnitMemories memories = new UnitMemories(database());
        UnitMemory fresh = Memories.FRESH;
        assertThat(memories.load(UNIT, fresh)).isEmpty();
        memories.save(Map.of(UNIT, Memories.after(2)), NOON);
        memories.save(Map.of(UNIT, Memories.after(7), new UnitId("E-08"), fresh), NOON);
        assertThat(memories.load(UNIT, fresh)).contains(new MemoryCodec.Decoded(Memories.after(7), List.of()));
    }

    @Test
    void aCorruptMemoryIsNamedAndTheUnitBeginsAnew() throws SQLException {
        UnitMemories memories = new UnitMemories(database());
        UnitMemory fresh = Memories.FRESH;
        memories.save(Map.of(UNIT, Memories.after(2)), NOON);
        try (Connection connection = database().getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute("UPDATE unit_memory SET memory = left(memory, 1000)");
        }
        MemoryCodec.Decoded decoded = memories.load(UNIT, fresh).orElseThrow();
        assertThat(decoded.memory()).isEqualTo(fresh);
        assertThat(decoded.faults()).singleElement().asString().startsWith("it is not JSON");
    }
}
