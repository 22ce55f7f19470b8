package io.loopwarden.mqtt.payload;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.mqtt.payload.SparkplugPayload.Message;
import io.loopwarden.mqtt.payload.SparkplugPayload.Metric;
import io.loopwarden.mqtt.payload.SparkplugSession.Outcome;
import io.loopwarden.mqtt.payload.SparkplugTopic.Type;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Expectations are from Sparkplug 3.0, chapters 4 to 6. */
class SparkplugSessionTest {

    private static final Instant SENT = Instant.parse("2026-11-25T08:00:00Z");
    private static final Instant NOW = SENT.plusMillis(40);
    private static final Quality STALE = new Quality(Level.BAD, 500);
    private static final int INT64 = 4;
    private static final int DOUBLE = 10;

    private final SparkplugSession session =
            new SparkplugSession(new EdgeNode("plant", "GW1"), device -> switch (device) {
                case "" -> Optional.of(Set.of("N"));
                case "CDU01" -> Optional.of(Set.of("A", "B"));
                default -> Optional.empty();
            });

    @Test
    void sequenceWrapsFrom255To0() {
        born(254);
        assertThat(nodeData(255, 1).refusals()).isEmpty();
        assertThat(nodeData(0, 2).refusals()).isEmpty();
        assertThat(nodeData(1, 3).refusals()).isEmpty();
    }

    @Test
    void aMissingMessageIsNoticedOverTheWrap() {
        born(254);
        nodeData(255, 1);
        Outcome outcome = nodeData(1, 3);
        assertThat(reasons(outcome)).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        assertThat(outcome.rebirthWanted()).isTrue();
    }

    @Test
    void birthMayBeginAnywhere() {
        born(7);
        Outcome outcome = nodeData(8, 1);
        assertThat(outcome.refusals()).isEmpty();
        assertThat(outcome.rebirthWanted()).isFalse();
    }

    @Test
    void lateWillOfAnOlderConnectionIsIgnored() {
        born(0, 5);
        assertThat(on(Type.NDEATH, null, -1, bdSeq(4)).readings()).isEmpty();
        assertThat(nodeData(1, 1).refusals()).isEmpty();
    }

    @Test
    void dataBeforeAnyBirthIsRefusedAndABirthWanted() {
        Outcome outcome = nodeData(3, 1);
        assertThat(outcome.readings()).isEmpty();
        assertThat(reasons(outcome)).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        assertThat(outcome.rebirthWanted()).isTrue();
    }

    @Test
    void birthAnnouncesValuesAndAliasesStandForNames() {
        born(0);
        Outcome birth = on(Type.DBIRTH, "CDU01", 1, named("A", 11, 1.0), named("B", 12, 2.0));
        assertThat(birth.readings().get("CDU01")).extracting(RawReading::source).containsExactly("A", "B");
        Outcome data = on(Type.DDATA, "CDU01", 2, alias(12, 2.5));
        assertThat(data.refusals()).isEmpty();
        assertThat(data.readings().get("CDU01"))
                .containsExactly(new RawReading("B", SENT, RawValue.of(2.5), Quality.GOOD));
    }

    @Test
    void dataWithoutATypeHasTheOneOfItsBirth() {
        born(0);
        Metric announced = new Metric("A", 11, 1, null, false, Quality.GOOD, new SparkplugValue.Bits(0xFF, 32));
        assertThat(on(Type.DBIRTH, "CDU01", 1, announced)
                        .readings()
                        .get("CDU01")
                        .get(0)
                        .value())
                .isEqualTo(RawValue.of(-1));
        Metric untyped = new Metric(null, 11, 0, null, false, Quality.GOOD, new SparkplugValue.Bits(0xFE, 32));
        assertThat(on(Type.DDATA, "CDU01", 2, untyped)
                        .readings()
                        .get("CDU01")
                        .get(0)
                        .value())
                .isEqualTo(RawValue.of(-2));
    }

    @Test
    void aliasThatNoBirthAnnouncedIsRefusedAndABirthWanted() {
        bornWithDevice();
        Outcome outcome = on(Type.DDATA, "CDU01", 2, alias(99, 1), alias(11, 7));
        assertThat(reasons(outcome)).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        assertThat(outcome.rebirthWanted()).isTrue();
        assertThat(outcome.readings().get("CDU01"))
                .extracting(RawReading::source)
                .containsExactly("A");
    }

    @Test
    void nodeDeathMakesEverythingStaleAtTheHostsTime() {
        bornWithDevice();
        Outcome death = on(Type.NDEATH, null, -1, bdSeq(0));
        assertThat(death.readings().get("")).containsExactly(new RawReading("N", NOW, RawValue.NONE, STALE));
        assertThat(death.readings().get("CDU01"))
                .containsExactly(
                        new RawReading("A", NOW, RawValue.NONE, STALE), new RawReading("B", NOW, RawValue.NONE, STALE));
        assertThat(on(Type.NDEATH, null, -1, bdSeq(0)).readings()).as("once").isEmpty();
        assertThat(nodeData(2, 1).rebirthWanted()).isTrue();
    }

    @Test
    void deathThatWasNotKeptIsToldAgain() {
        bornWithDevice();
        on(Type.NDEATH, null, -1, bdSeq(0));
        Outcome again = session.on(Type.NDEATH, null, message(-1, bdSeq(0)), true, NOW);
        assertThat(again.readings()).containsOnlyKeys("", "CDU01");
    }

    @Test
    void deviceDeathMakesOnlyItsOwnStale() {
        bornWithDevice();
        Outcome death = on(Type.DDEATH, "CDU01", 2);
        assertThat(death.readings()).containsOnlyKeys("CDU01");
        assertThat(death.readings().get("CDU01"))
                .extracting(RawReading::quality)
                .containsOnly(STALE);
        assertThat(nodeData(3, 1).refusals()).isEmpty();
        assertThat(on(Type.DDATA, "CDU01", 4, alias(11, 1)).rebirthWanted()).isTrue();
    }

    @Test
    void afterAGapOldValuesAreStaleAndNewOnesUncertainUntilABirth() {
        bornWithDevice();
        Outcome late = on(Type.DDATA, "CDU01", 4, alias(11, 7));
        assertThat(late.readings().get("")).containsExactly(new RawReading("N", NOW, RawValue.NONE, STALE));
        assertThat(late.readings().get("CDU01"))
                .containsExactly(
                        new RawReading("B", NOW, RawValue.NONE, STALE),
                        new RawReading("A", SENT, RawValue.of(7.0), new Quality(Level.UNCERTAIN, 500)));
        assertThat(on(Type.DDATA, "CDU01", 5, alias(12, 8)).readings().get("CDU01"))
                .containsExactly(new RawReading("B", SENT, RawValue.of(8.0), new Quality(Level.UNCERTAIN, 500)));

        on(Type.DBIRTH, "CDU01", 6, named("A", 11, 1.0), named("B", 12, 2.0));
        assertThat(on(Type.DDATA, "CDU01", 7, alias(11, 9)).readings().get("CDU01"))
                .extracting(RawReading::quality)
                .containsExactly(Quality.GOOD);
        assertThat(nodeData(8, 1).readings().get(""))
                .as("the node itself was not born again")
                .extracting(reading -> reading.quality().level())
                .containsExactly(Level.UNCERTAIN);
        born(9);
        assertThat(nodeData(10, 1).readings().get("").get(0).quality()).isEqualTo(Quality.GOOD);
    }

    @Test
    void aBreakOfOurOwnConnectionIsAGapWhateverTheSequenceSays() {
        born(0);
        session.trackLost();
        assertThat(reasons(nodeData(1, 1))).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        assertThat(nodeData(2, 1).refusals()).isEmpty();
    }

    @Test
    void nullAndToldQualityAndTimesAreKept() {
        bornWithDevice();
        Instant own = SENT.minusSeconds(5);
        Outcome outcome = on(
                Type.DDATA,
                "CDU01",
                2,
                new Metric(null, 11, DOUBLE, own, true, new Quality(Level.UNCERTAIN, 500), new SparkplugValue.Real(3)),
                new Metric(null, 12, DOUBLE, null, false, Quality.GOOD, new SparkplugValue.Null()));
        assertThat(outcome.readings().get("CDU01"))
                .containsExactly(
                        new RawReading("A", own, RawValue.of(3.0), new Quality(Level.UNCERTAIN, 500)),
                        new RawReading("B", SENT, RawValue.NONE, new Quality(Level.BAD, 0)));
    }

    @Test
    void metricsThatNobodyMappedAreCountedOnceAtBirth() {
        born(0);
        Outcome birth = on(Type.DBIRTH, "CDU01", 1, named("A", 11, 1.0), named("X", 13, 1.0));
        assertThat(reasons(birth)).containsExactly(RejectReason.UNKNOWN_TAG);
        assertThat(on(Type.DDATA, "CDU01", 2, alias(13, 2)).refusals()).isEmpty();
        assertThat(reasons(on(Type.DBIRTH, "CDU77", 3, named("A", 21, 1.0))))
                .containsExactly(RejectReason.UNKNOWN_UNIT);
        assertThat(nodeData(4, 1).refusals())
                .as("it counts in the sequence all the same")
                .isEmpty();
    }

    @Test
    void deviceBirthBeforeTheNodesIsRefused() {
        Outcome outcome = on(Type.DBIRTH, "CDU01", 1, named("A", 11, 1.0));
        assertThat(reasons(outcome)).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        assertThat(outcome.rebirthWanted()).isTrue();
    }

    @Test
    void sequenceNumberIsNotOptional() {
        assertThat(reasons(on(Type.NBIRTH, null, -1, bdSeq(0)))).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        born(0);
        Outcome without = on(Type.NDATA, null, -1, named("N", 1, 5));
        assertThat(reasons(without)).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        assertThat(without.rebirthWanted()).isTrue();
        assertThat(on(Type.NDATA, null, 256, named("N", 1, 5)).rebirthWanted()).isTrue();
    }

    private void bornWithDevice() {
        born(0);
        on(Type.DBIRTH, "CDU01", 1, named("A", 11, 1.0), named("B", 12, 2.0));
    }

    private void born(long seq) {
        born(seq, 0);
    }

    private void born(long seq, long bdSeq) {
        assertThat(on(Type.NBIRTH, null, seq, bdSeq(bdSeq), named("N", 1, 0)).refusals())
                .isEmpty();
    }

    private Outcome nodeData(long seq, double value) {
        return on(Type.NDATA, null, seq, alias(1, value));
    }

    private Outcome on(Type type, String device, long seq, Metric... metrics) {
        return session.on(type, device, message(seq, metrics), false, NOW);
    }

    private static Message message(long seq, Metric... metrics) {
        return new Message(seq, SENT, new ArrayList<>(Arrays.asList(metrics)));
    }

    private static Metric named(String name, long alias, double value) {
        return new Metric(name, alias, DOUBLE, null, false, Quality.GOOD, new SparkplugValue.Real(value));
    }

    private static Metric alias(long alias, double value) {
        return new Metric(null, alias, DOUBLE, null, false, Quality.GOOD, new SparkplugValue.Real(value));
    }

    private static Metric bdSeq(long value) {
        return new Metric("bdSeq", -1, INT64, null, false, Quality.GOOD, new SparkplugValue.Bits(value, 64));
    }

    private static List<RejectReason> reasons(Outcome outcome) {
        return outcome.refusals().stream().map(Refusal::reason).toList();
    }
}
