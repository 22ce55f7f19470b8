package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.AlarmId;
import io.loopwarden.alarm.AlarmState;
import io.loopwarden.alarm.Incident;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import io.loopwarden.store.alarm.AlarmStore;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A process that decides and delivers is killed while messages are on their way; {@code deploy/drill delivery} does it 100 times. */
class KillDeliveryIT {

    private static final int KILLS = Integer.getInteger("loopwarden.test.delivery-kills", 2);

    @TempDir
    Path folder;

    @Test
    @Timeout(3600)
    void eachMessageIsDeliveredAtLeastOnceWithOneIdAndNoAlarmIsLost() throws Exception {
        long seed = System.nanoTime();
        SplittableRandom random = new SplittableRandom(seed);
        Set<Integer> kept = new HashSet<>();
        int whileSending = 0;
        int repeated;
        try (Receiver receiver = new Receiver()) {
            int first = 1;
            for (int kill = 0; kill < KILLS; kill++) {
                boolean onRequest = random.nextInt(3) > 0;
                Round round = new Round(receiver, first, random.nextInt(1, 40), onRequest);
                round.run(kept);
                whileSending += round.killedBy.get();
                first = kept.stream().mapToInt(Integer::intValue).max().orElse(first) + 100;
            }
            receiver.answers(request -> 204);
            deliverTheRest(receiver);
            repeated = assertDelivered(receiver);
        }
        System.out.printf(
                "kill -9 between decision and delivery, %d times (%d of them while a message was being taken): %d alarms kept, each"
                        + " message delivered, %d repeated with the same id, seed %d%n",
                KILLS, whileSending, kept.size(), repeated, seed);
        assertKept(kept);
    }

    /** One life of the process. */
    private final class Round {
        final AtomicInteger killedBy = new AtomicInteger();
        private final Receiver receiver;
        private final int first;
        private final int after;
        private final boolean onRequest;

        Round(Receiver receiver, int first, int after, boolean onRequest) {
            this.receiver = receiver;
            this.first = first;
            this.after = after;
            this.onRequest = onRequest;
        }

        void run(Set<Integer> kept) throws IOException {
            Process process = desk(receiver, first, 10_000);
            AtomicInteger taken = new AtomicInteger();
            // The kill comes when the receiver has the message and has not answered: it is taken, and nobody knows.
            receiver.answers(request -> {
                if (onRequest && taken.incrementAndGet() == after) {
                    killedBy.incrementAndGet();
                    process.toHandle().destroyForcibly();
                }
                return 204;
            });
            int heard = 0;
            try (BufferedReader out =
                    new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
                for (String line = out.readLine(); line != null; line = out.readLine()) {
                    if (line.matches("[0-9]+")) {
                        kept.add(Integer.parseInt(line));
                        if (!onRequest && ++heard == after) {
                            process.toHandle().destroyForcibly();
                        }
                    }
                }
            } finally {
                process.destroyForcibly();
            }
        }
    }

    private void deliverTheRest(Receiver receiver) throws IOException {
        Process process = desk(receiver, 0, 0);
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
            String line = out.readLine();
            while (line != null && !line.equals("idle")) {
                line = out.readLine();
            }
            assertThat(line).isEqualTo("idle");
        } finally {
            process.destroyForcibly();
        }
    }

    private Process desk(Receiver receiver, int first, int count) throws IOException {
        return new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Xmx256m",
                        "-XX:TieredStopAtLevel=1",
                        "-XX:+UseSerialGC",
                        "-cp",
                        System.getProperty("java.class.path"),
                        KilledDesk.class.getName(),
                        folder.toString(),
                        receiver.address("/").toString(),
                        Integer.toString(first),
                        Integer.toString(count))
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .start();
    }

    /** Every incident's message came, all its repetitions with one id. Answers how many came more than once. */
    private static int assertDelivered(Receiver receiver) throws IOException {
        Map<String, List<String>> idsOf = receiver.requests.stream()
                .collect(Collectors.groupingBy(
                        KillDeliveryIT::incident, Collectors.mapping(OnCallIT::id, Collectors.toList())));
        assertThat(idsOf)
                .allSatisfy(
                        (incident, ids) -> assertThat(ids.stream().distinct()).hasSize(1));
        return (int) idsOf.values().stream().filter(ids -> ids.size() > 1).count();
    }

    private static String incident(Receiver.Request request) {
        try {
            return DeskRig.JSON.readTree(request.body()).at("/data/incident").asText();
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private void assertKept(Set<Integer> kept) throws Exception {
        try (EmbeddedStore server = EmbeddedStore.start(folder);
                SampleStore samples = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC())) {
            assertThat(samples.flavour()).isNotNull();
            AlarmStore store = new AlarmStore(server.dataSource());
            Map<AlarmId, AlarmState> states =
                    store.alarms().stream().collect(Collectors.toMap(Alarm::id, Alarm::state));
            assertThat(kept)
                    .allSatisfy(number ->
                            assertThat(states.get(DeskRig.alarm(number))).isEqualTo(AlarmState.UNACKNOWLEDGED));
            Set<String> told = new HashSet<>();
            for (Incident incident : store.openIncidents()) {
                assertThat(new io.loopwarden.store.alarm.Outbox(server.dataSource()).ofIncident(incident.id()))
                        .as(incident.place())
                        .singleElement()
                        .matches(message -> message.state().equals("delivered"));
                told.add(incident.place());
            }
            assertThat(kept).allSatisfy(number -> assertThat(told).contains(DeskRig.source(number)));
        }
    }
}
