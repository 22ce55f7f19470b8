package io.loopwarden.collector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import io.loopwarden.collector.ConnectionStatus.State;
import io.loopwarden.fleet.Quality;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What every collector promises, whatever its protocol; each collector's test runs it against a real server. */
public abstract class CollectorContract {

    /** A real server with one unit and one numeric tag, and the collector that reads it. */
    public interface Rig {

        /** Starts the server unless it runs; after {@link #stop()} it comes back under the same address. */
        void start() throws Exception;

        /** Takes the server away at once, connections included; nothing if it does not run. */
        void stop() throws Exception;

        /** A collector with short back-off (at most about a second) for {@link #unit()} of this server, not started. */
        Collector collector(ReadingSink sink, RejectLog rejects, Clock clock) throws Exception;

        /** The unit's id in the fleet. */
        String unit();

        /** The tag that {@link #set} changes, as {@link RawReading#source()} spells it. */
        String source();

        /**
         * Gives the tag a good value at the source; a whole number, so that it is exact in every type.
         *
         * @return the source time the server sends with it, where the protocol has one
         */
        Optional<Instant> set(double value) throws Exception;

        /** Makes the source report the tag as bad, with or without a value, until the next {@link #set}. */
        void setBad() throws Exception;

        /** Lets the collector meet a tag that only one side knows; called once it is connected. */
        void meetUnknownTag() throws Exception;

        /** Whether a thread belongs to the test server, or to a pool that the library shares over the whole process. */
        boolean isOutside(Thread thread);

        /** Stops the server and gives back what it used. */
        void close() throws Exception;
    }

    protected static final Duration PATIENCE = Duration.ofSeconds(20);

    private final Clock clock = Clock.systemUTC();
    private final RecordingSink sink = new RecordingSink();
    private final RejectLog rejects = new RejectLog(clock);
    private Set<Thread> threadsBefore;
    private Rig rig;
    private Collector collector;

    /** A fresh rig; its server may run already. */
    protected abstract Rig newRig() throws Exception;

    @BeforeEach
    final void makeCollector() throws Exception {
        rig = newRig();
        threadsBefore = Thread.getAllStackTraces().keySet();
        collector = rig.collector(sink, rejects, clock);
    }

    @AfterEach
    final void closeAll() throws Exception {
        collector.close();
        rig.close();
    }

    @Test
    protected void valueArrivesWithQualityAndTime() throws Exception {
        rig.start();
        collector.start();
        awaitState(State.CONNECTED);
        Instant before = clock.instant();
        Optional<Instant> sourceTime = rig.set(41);
        awaitGood(41);

        assertThat(collector.status().lastDataAt())
                .hasValueSatisfying(at -> assertThat(at).isAfterOrEqualTo(before));
        assertThat(collector.status().detail()).isEmpty();
        RawReading reading =
                sink.of(rig.source()).filter(RecordingSink.good(41)).findFirst().orElseThrow();
        if (sourceTime.isPresent()) {
            assertThat(reading.measuredAt()).isEqualTo(sourceTime.get());
        } else {
            assertThat(reading.measuredAt()).isBetween(before, clock.instant());
        }
        assertThat(sink.deliveries()).allSatisfy(delivery -> {
            assertThat(delivery.unit().value()).isEqualTo(rig.unit());
            assertThat(delivery.readings()).isNotEmpty();
        });
    }

    @Test
    protected void badQualityIsHandedOnAndGoodComesBack() throws Exception {
        connectAndSee(1);
        rig.setBad();
        await().atMost(PATIENCE).until(() -> sink.hasBad(rig.source()));
        assertThat(sink.of(rig.source()).filter(r -> r.quality().level() == Quality.Level.BAD))
                .as("a bad reading says why")
                .allSatisfy(r -> assertThat(r.quality().code()).isNotZero());
        rig.set(2);
        awaitGood(2);
    }

    @Test
    protected void unknownTagIsCountedAndNotFatal() throws Exception {
        connectAndSee(1);
        rig.meetUnknownTag();
        await().atMost(PATIENCE).until(() -> rejects.count(RejectReason.UNKNOWN_TAG) > 0);
        assertThat(rejects.entries())
                .filteredOn(entry -> entry.reason() == RejectReason.UNKNOWN_TAG)
                .allSatisfy(entry -> assertThat(entry.lastDetail()).isNotBlank());
        rig.set(2);
        awaitGood(2);
    }

    @Test
    protected void serverAwayAtStartIsSaidAndMetWhenItAppears() throws Exception {
        rig.stop();
        collector.start();
        await().atMost(PATIENCE).until(() -> !collector.status().detail().isEmpty());
        assertThat(collector.status().state()).isIn(State.CONNECTING, State.LOST);
        rig.start();
        awaitState(State.CONNECTED);
        rig.set(7);
        awaitGood(7);
        assertThat(collector.status().detail()).isEmpty();
    }

    @Test
    protected void lostServerIsSaidOnceAndMetAgain() throws Exception {
        connectAndSee(1);
        Instant connectedSince = collector.status().since();
        rig.stop();
        awaitState(State.LOST);
        ConnectionStatus lost = collector.status();
        assertThat(lost.since()).isAfterOrEqualTo(connectedSince);
        await().during(Duration.ofMillis(1500))
                .atMost(PATIENCE)
                .until(() -> collector.status().since().equals(lost.since()));
        assertThat(collector.status().detail()).isNotEmpty();

        rig.start();
        awaitState(State.CONNECTED);
        rig.set(2);
        awaitGood(2);
        assertThat(collector.status().detail()).isEmpty();
    }

    @Test
    protected void failingSinkDoesNotKillTheCollector() throws Exception {
        connectAndSee(1);
        sink.failNext(4);
        int before = sink.calls();
        for (int value = 2; sink.calls() < before + 4; value++) {
            assertThat(value).as("deliveries stopped at the failing sink").isLessThan(100);
            int callsSoFar = sink.calls();
            rig.set(value);
            await().atMost(PATIENCE).until(() -> sink.calls() > callsSoFar);
        }
        rig.set(1000);
        awaitGood(1000);
    }

    @Test
    protected void closeLeavesNoThreadBehind() throws Exception {
        connectAndSee(1);
        collector.close();
        assertClosedWithoutThreads();
        int callsAtClose = sink.calls();
        rig.set(2);
        await().during(Duration.ofMillis(500)).atMost(PATIENCE).until(() -> sink.calls() == callsAtClose);
        collector.close();
    }

    @Test
    protected void closeWhileTheServerIsAwayLeavesNoThreadBehind() throws Exception {
        rig.stop();
        collector.start();
        await().atMost(PATIENCE).until(() -> !collector.status().detail().isEmpty());
        collector.close();
        assertClosedWithoutThreads();
    }

    private void assertClosedWithoutThreads() {
        assertThat(collector.status().state()).isEqualTo(State.CLOSED);
        await().atMost(PATIENCE)
                .untilAsserted(() -> assertThat(Thread.getAllStackTraces().keySet().stream()
                                .filter(thread -> !threadsBefore.contains(thread))
                                .filter(thread -> !thread.getName().startsWith("awaitility"))
                                .filter(thread -> !rig.isOutside(thread))
                                .map(Thread::getName)
                                .collect(Collectors.toSet()))
                        .isEmpty());
    }

    private void connectAndSee(double value) throws Exception {
        rig.start();
        collector.start();
        awaitState(State.CONNECTED);
        rig.set(value);
        awaitGood(value);
    }

    private void awaitState(State state) {
        await().alias("state " + state)
                .atMost(PATIENCE)
                .until(() -> collector.status().state() == state);
    }

    private void awaitGood(double value) {
        await().alias("value " + value).atMost(PATIENCE).until(() -> sink.hasGood(rig.source(), value));
    }
}
