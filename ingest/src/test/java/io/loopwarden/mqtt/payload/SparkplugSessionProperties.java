package io.loopwarden.mqtt.payload;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.mqtt.payload.SparkplugPayload.Message;
import io.loopwarden.mqtt.payload.SparkplugPayload.Metric;
import io.loopwarden.mqtt.payload.SparkplugSession.Outcome;
import io.loopwarden.mqtt.payload.SparkplugTopic.Type;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.From;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.Tuple;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;

class SparkplugSessionProperties {

    private static final Instant NOW = Instant.parse("2026-11-25T08:00:00Z");

    /** One message, well-formed or not. */
    record Input(Type type, String device, Message message, boolean redelivered, boolean connectionBreak) {}

    @Provide
    Arbitrary<Input> inputs() {
        Arbitrary<SparkplugValue> values = Arbitraries.oneOf(
                Arbitraries.longs().map(bits -> new SparkplugValue.Bits(bits, 64)),
                Arbitraries.doubles().map(SparkplugValue.Real::new),
                Arbitraries.of(new SparkplugValue.Null(), new SparkplugValue.Other(), new SparkplugValue.Flag(true)));
        Arbitrary<Instant> times =
                Arbitraries.longs().map(Instant::ofEpochMilli).injectNull(0.3);
        Arbitrary<Metric> metrics = Combinators.combine(
                        Arbitraries.of("N", "A", "B", "bdSeq", "X").injectNull(0.5),
                        Arbitraries.longs().between(-1, 4),
                        Arbitraries.integers().between(0, 40),
                        times,
                        Arbitraries.of(true, false),
                        Arbitraries.of(Quality.GOOD, new Quality(Level.BAD, 0), new Quality(Level.UNCERTAIN, 500)),
                        values)
                .as(Metric::new);
        Arbitrary<Message> messages = Combinators.combine(
                        Arbitraries.longs().between(-1, 256),
                        times,
                        metrics.list().ofMaxSize(4))
                .as(Message::new);
        Arbitrary<Type> types = Arbitraries.of(Type.values());
        return Combinators.combine(
                        types,
                        Arbitraries.of("CDU01", "CDU02"),
                        messages,
                        Arbitraries.of(true, false),
                        Arbitraries.frequencyOf(
                                Tuple.of(9, Arbitraries.just(false)), Tuple.of(1, Arbitraries.just(true))))
                .as(Input::new);
    }

    @Property
    void noSequenceOfMessagesThrowsOrHandsOnWhatNobodyMapped(
            @ForAll @Size(max = 60) List<@From("inputs") Input> inputs) {
        SparkplugSession session = newSession();
        for (Input input : inputs) {
            if (input.connectionBreak()) {
                session.trackLost();
            }
            Outcome outcome = session.on(input.type(), input.device(), input.message(), input.redelivered(), NOW);
            outcome.readings()
                    .forEach((device, readings) -> assertThat(readings)
                            .extracting(RawReading::source)
                            .isSubsetOf(device.isEmpty() ? List.of("N") : List.of("A", "B")));
            assertThat(outcome.readings().keySet()).isSubsetOf("", "CDU01");
        }
    }

    /** Messages missed anywhere, in any number that is not a multiple of 256, are noticed with the next one that comes. */
    @Property
    void everyGapIsNoticedAtOnce(
            @ForAll @IntRange(min = 0, max = 255) int birthSeq,
            @ForAll @IntRange(min = 0, max = 600) int before,
            @ForAll @IntRange(min = 1, max = 255) int missed) {
        SparkplugSession session = newSession();
        session.on(Type.NBIRTH, null, data(birthSeq), false, NOW);
        int seq = birthSeq;
        for (int i = 0; i < before; i++) {
            seq = seq + 1 & 0xFF;
            assertThat(session.on(Type.NDATA, null, data(seq), false, NOW).refusals())
                    .isEmpty();
        }
        Outcome outcome = session.on(Type.NDATA, null, data(seq + 1 + missed & 0xFF), false, NOW);
        assertThat(outcome.rebirthWanted()).isTrue();
        assertThat(outcome.refusals()).extracting(Refusal::reason).containsExactly(RejectReason.OUT_OF_SEQUENCE);
        assertThat(outcome.readings().get(""))
                .allSatisfy(reading -> assertThat(reading.quality().isGood()).isFalse());
    }

    private static Message data(long seq) {
        Metric metric = new Metric("N", 1, 10, null, false, Quality.GOOD, new SparkplugValue.Real(1));
        return new Message(seq, NOW, List.of(metric));
    }

    private static SparkplugSession newSession() {
        return new SparkplugSession(new EdgeNode("plant", "GW1"), device -> switch (device) {
            case "" -> Optional.of(Set.of("N"));
            case "CDU01" -> Optional.of(Set.of("A", "B"));
            default -> Optional.empty();
        });
    }
}
