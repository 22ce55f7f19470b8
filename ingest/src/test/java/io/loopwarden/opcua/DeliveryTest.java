package io.loopwarden.opcua;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RecordingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.net.URI;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.junit.jupiter.api.Test;

class DeliveryTest {

    private static final Instant START = Instant.parse("2026-11-25T08:00:00Z");
    private static final Duration PATIENCE = Duration.ofMillis(20);
    private static final long OVERFLOW = 0x0000_0480L;

    private final ManualClock clock = new ManualClock(START);
    private final RecordingSink sink = new RecordingSink();
    private final RejectLog rejects = new RejectLog(clock);
    private final List<Tag> tags = Tag.of(Plants.connection(
            URI.create("opc.tcp://127.0.0.1:4840"),
            Map.of(),
            Plants.unit("E-01", Map.of("tcs.flow", "ns=2;s=E1/Flow")),
            Plants.unit("E-02", Map.of("tcs.flow", "ns=2;s=E2/Flow"))));
    private final Tag first = tags.get(0);
    private final Tag second = tags.get(1);
    private final Delivery delivery = new Delivery("line", sink, rejects, clock, 8, PATIENCE);

    @Test
    void oneResponseIsOneCallForEachUnitWithTheSameReceiveTime() {
        clock.advance(Duration.ofSeconds(5));
        delivery.values(
                List.of(first, second, first), List.of(value(1, at(1000)), value(2, at(1000)), value(3, at(2000))));
        assertThat(sink.deliveries())
                .hasSize(2)
                .allSatisfy(d -> assertThat(d.receivedAt()).isEqualTo(START.plusSeconds(5)));
        assertThat(sink.of(first.source()).map(RawReading::value)).containsExactly(RawValue.of(1.0), RawValue.of(3.0));
        assertThat(sink.deliveries().get(1).unit()).isEqualTo(second.unit());
        assertThat(delivery.lastDataAt()).contains(START.plusSeconds(5));
    }

    @Test
    void lossIsMarkedAtTheTimeWeLastHeardOfTheServer() {
        delivery.values(tags, List.of(value(1, at(-100)), value(2, at(-100))));
        clock.advance(Duration.ofSeconds(2));
        delivery.heard();
        clock.advance(Duration.ofSeconds(8));
        delivery.markGap(tags);
        assertThat(sink.of(first.source()).toList()).last().isEqualTo(mark(first, at(2001)));
        assertThat(sink.of(second.source()).toList()).last().isEqualTo(mark(second, at(2001)));
    }

    @Test
    void markNeverHasTheTimeOfAValueAlsoWhenTheServersClockIsAhead() {
        delivery.values(List.of(first), List.of(value(1, at(60_000))));
        delivery.markGap(List.of(first));
        assertThat(sink.of(first.source()).toList()).last().isEqualTo(mark(first, at(60_001)));
    }

    @Test
    void gapIsMarkedOnceUntilValuesComeAgain() {
        delivery.values(List.of(first), List.of(value(1, at(0))));
        delivery.markGap(tags);
        delivery.markGap(tags);
        assertThat(marks(first)).hasSize(1);
        assertThat(marks(second)).as("it never had a value").isEmpty();
        clock.advance(Duration.ofSeconds(1));
        delivery.values(List.of(first), List.of(value(2, at(900))));
        delivery.markGap(tags);
        assertThat(marks(first)).hasSize(2);
    }

    @Test
    void oldValueThatIsConfirmedAfterAGapEndsItWithTheServersTime() {
        delivery.values(List.of(first), List.of(value(1, at(-5000))));
        delivery.markGap(tags);
        clock.advance(Duration.ofSeconds(10));
        delivery.values(List.of(first), List.of(value(1, at(-5000))));
        assertThat(sink.of(first.source()).toList())
                .containsExactly(
                        new RawReading(first.source(), at(-5000), RawValue.of(1.0), Quality.GOOD),
                        mark(first, at(1)),
                        new RawReading(first.source(), at(-5000), RawValue.of(1.0), Quality.GOOD),
                        new RawReading(first.source(), START.plusSeconds(10), RawValue.of(1.0), Quality.GOOD));
    }

    @Test
    void valuesThatWereQueuedBeforeTheMarkDoNotEndTheGapAndAreNotRedated() {
        delivery.values(List.of(first), List.of(value(1, at(0), at(0))));
        clock.advance(Duration.ofMillis(500));
        delivery.heard();
        delivery.markGap(tags); // at 501 ms
        clock.advance(Duration.ofSeconds(10));
        delivery.values(List.of(first, first), List.of(value(2, at(400), at(400)), value(3, at(900), at(900))));
        assertThat(sink.of(first.source()).toList())
                .containsExactly(
                        new RawReading(first.source(), at(0), RawValue.of(1.0), Quality.GOOD),
                        mark(first, at(501)),
                        new RawReading(first.source(), at(400), RawValue.of(2.0), Quality.GOOD),
                        new RawReading(first.source(), at(900), RawValue.of(3.0), Quality.GOOD));
    }

    @Test
    void markIsOnTheServersClock() {
        Instant anHourBehind = START.minus(Duration.ofHours(1));
        delivery.values(List.of(first), List.of(value(1, anHourBehind, anHourBehind)));
        clock.advance(Duration.ofSeconds(2));
        delivery.heard();
        delivery.markGap(tags);
        assertThat(sink.of(first.source()).toList()).last().isEqualTo(mark(first, anHourBehind.plusMillis(2001)));
    }

    @Test
    void overflowIsMarkedBetweenTheValuesAroundIt() {
        delivery.values(List.of(first), List.of(value(1, at(0))));
        delivery.values(List.of(first, first), List.of(value(8, at(7000), OVERFLOW), value(9, at(8000), OVERFLOW)));
        assertThat(sink.of(first.source()).toList())
                .containsExactly(
                        new RawReading(first.source(), at(0), RawValue.of(1.0), Quality.GOOD),
                        mark(first, at(1)),
                        new RawReading(
                                first.source(), at(7000), RawValue.of(8.0), new Quality(Quality.Level.GOOD, OVERFLOW)),
                        new RawReading(
                                first.source(), at(8000), RawValue.of(9.0), new Quality(Quality.Level.GOOD, OVERFLOW)));
    }

    @Test
    void whatTheSinkDidNotKeepIsCountedAndMarkedWithTheNextValue() {
        delivery.values(List.of(first), List.of(value(1, at(0))));
        sink.failNext(2); // one throws, one fails later
        delivery.values(List.of(first), List.of(value(2, at(1000))));
        delivery.values(List.of(first), List.of(value(3, at(2000))));
        delivery.values(List.of(first), List.of(value(4, at(3000))));
        assertThat(rejects.count(RejectReason.LOG_FULL))
                .isEqualTo(3); // two values, and the mark that went with the second
        assertThat(sink.of(first.source()).toList())
                .containsExactly(
                        new RawReading(first.source(), at(0), RawValue.of(1.0), Quality.GOOD),
                        mark(first, at(1000)),
                        new RawReading(first.source(), at(3000), RawValue.of(4.0), Quality.GOOD));
    }

    @Test
    void sinkThatFinishesNothingIsNotWaitedForWithoutBound() {
        CompletableFuture<Void> open = new CompletableFuture<>();
        List<RawReading> came = new ArrayList<>();
        Delivery tight = new Delivery(
                "line",
                (unit, receivedAt, readings) -> {
                    came.addAll(readings);
                    return open;
                },
                rejects,
                clock,
                1,
                PATIENCE);
        tight.values(List.of(first), List.of(value(1, at(0))));
        tight.values(List.of(first), List.of(value(2, at(1000))));
        assertThat(rejects.count(RejectReason.LOG_FULL)).isEqualTo(1);
        open.complete(null);
        tight.values(List.of(first), List.of(value(3, at(2000))));
        assertThat(came)
                .containsExactly(
                        new RawReading(first.source(), at(0), RawValue.of(1.0), Quality.GOOD),
                        mark(first, at(1000)),
                        new RawReading(first.source(), at(2000), RawValue.of(3.0), Quality.GOOD));
    }

    @Test
    void refusedValueIsCountedWithUnitAndNodeAndTheOthersGoOn() {
        delivery.values(List.of(first, second), List.of(value(Double.NaN, at(0)), value(2, at(0))));
        assertThat(rejects.entries()).singleElement().satisfies(entry -> {
            assertThat(entry.reason()).isEqualTo(RejectReason.NOT_A_NUMBER);
            assertThat(entry.lastDetail()).contains("E-01", "ns=2;s=E1/Flow", "NaN");
        });
        assertThat(sink.hasGood(second.source(), 2)).isTrue();
        assertThat(sink.deliveries()).as("no empty delivery").hasSize(1);
    }

    @Test
    void nothingIsHandedOnAfterClose() {
        delivery.values(List.of(first), List.of(value(1, at(0))));
        delivery.close();
        delivery.values(List.of(first), List.of(value(2, at(1000))));
        delivery.markGap(tags);
        assertThat(sink.calls()).isEqualTo(1);
    }

    private List<RawReading> marks(Tag tag) {
        return sink.of(tag.source())
                .filter(reading -> reading.value() instanceof RawValue.None)
                .toList();
    }

    private static RawReading mark(Tag tag, Instant at) {
        return new RawReading(tag.source(), at, RawValue.NONE, new Quality(Quality.Level.BAD, 0x8031_0000L));
    }

    private static Instant at(long millisFromStart) {
        return START.plusMillis(millisFromStart);
    }

    private DataValue value(double value, Instant measuredAt) {
        return value(value, measuredAt, 0);
    }

    private static DataValue value(double value, Instant measuredAt, Instant serverTime) {
        return new DataValue(Variant.of(value), StatusCode.GOOD, new DateTime(measuredAt), new DateTime(serverTime));
    }

    private DataValue value(double value, Instant measuredAt, long status) {
        return new DataValue(
                Variant.of(value), new StatusCode(status), new DateTime(measuredAt), new DateTime(clock.instant()));
    }
}
