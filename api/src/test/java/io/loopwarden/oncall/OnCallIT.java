package io.loopwarden.oncall;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import io.loopwarden.alarm.AlarmEvent;
import io.loopwarden.alarm.AlarmState;
import io.loopwarden.alarm.Change;
import io.loopwarden.alarm.Transition;
import io.loopwarden.alarmdesk.AlarmDesk.Answer;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import io.loopwarden.store.alarm.OutboxMessage;
import jakarta.mail.internet.MimeMessage;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Base64;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Messages over a real mail server and a real HTTP receiver, decided on and kept in a real database. */
class OnCallIT {

    private static final byte[] KEY = "a key of the test, long enough".getBytes(StandardCharsets.UTF_8);

    @TempDir
    static Path folder;

    private static EmbeddedStore server;
    private static SampleStore samples;
    private static int next = 1;

    private final Receiver receiver = new Receiver();
    private final List<AutoCloseable> opened = new ArrayList<>(List.of(receiver));

    @BeforeAll
    static void start() throws Exception {
        server = EmbeddedStore.start(folder);
        samples = SampleStore.open(server.dataSource(), StoreSettings.DEFAULT, Clock.systemUTC());
    }

    @AfterAll
    static void stop() {
        samples.close();
        server.close();
    }

    @AfterEach
    void close() throws Exception {
        for (int i = opened.size() - 1; i >= 0; i--) {
            opened.get(i).close();
        }
        try (var connection = server.dataSource().getConnection();
                var statement = connection.createStatement()) {
            statement.execute("TRUNCATE alarm_transition, alarm_now, incident, outbox, on_call_plan");
        }
    }

    private DeskRig rig(Channel... channels) throws Exception {
        DeskRig rig = new DeskRig(server.dataSource(), List.of(channels), Clock.systemUTC());
        opened.add(rig);
        return rig;
    }

    private Channel webhook() {
        return new WebhookChannel(
                "webhook",
                receiver.address("/alarms?site=one"),
                "test",
                KEY,
                java.net.URI.create("https://loopwarden.example.org"),
                DeskRig.JSON,
                Clock.systemUTC());
    }

    @Test
    void oneAlarmIsOneMailAndOneSignedEventAndItsLinkAcknowledges() throws Exception {
        GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        mail.start();
        opened.add(mail::stop);
        DeskRig rig = rig(
                webhook(),
                new MailChannel(
                        "mail",
                        new MailChannel.Settings(
                                "127.0.0.1",
                                mail.getSmtp().getPort(),
                                "none",
                                "loopwarden@example.org",
                                Optional.empty(),
                                Optional.empty())));
        int number = next++;
        rig.set(number, true);
        assertThat(mail.waitForIncomingEmail(10_000, 1)).isTrue();
        await().until(() -> receiver.requests.size() == 1);

        Receiver.Request request = receiver.requests.get(0);
        JsonNode event = DeskRig.JSON.readTree(request.body());
        assertThat(event.get("specversion").asText()).isEqualTo("1.0");
        assertThat(event.get("type").asText()).isEqualTo("io.loopwarden.incident.raised");
        assertThat(event.get("subject").asText()).isEqualTo(DeskRig.source(number));
        assertThat(event.at("/data/firstAction").asText()).isEqualTo("Look at it.");
        assertSigned(request);

        MimeMessage letter = mail.getReceivedMessages()[0];
        String id = event.get("id").asText();
        assertThat(letter.getHeader("Message-ID")[0]).isEqualTo("<" + id + "@example.org>");
        assertThat(letter.getSubject()).isEqualTo("HIGH " + DeskRig.source(number) + ": A controller does not answer");
        String text = String.valueOf(letter.getContent());
        assertThat(text)
                .contains("If nobody acts: Nothing is known of the units behind it.")
                .contains("First: Look at it.");

        String key = text.substring(text.indexOf("acknowledge.html#") + 17).split("\\s")[0];
        AckLinks.Grant grant = rig.links.read(key, Instant.now()).orElseThrow();
        assertThat(grant.alarm()).isEqualTo(DeskRig.alarm(number));
        Answer answer = rig.desk
                .command(grant.alarm(), at -> Change.byPerson(AlarmEvent.ACKNOWLEDGE, at, grant.person(), "by link"))
                .get();
        assertThat(((Answer.Done) answer).alarm().state()).isEqualTo(AlarmState.ACKNOWLEDGED);
        assertThat(rig.desk.snapshot().open())
                .singleElement()
                .matches(open -> open.takenBy().isPresent());
    }

    /** As a receiver checks it: digest of the body, then the signature over what it covers. */
    private static void assertSigned(Receiver.Request request) throws Exception {
        String digest = Base64.getEncoder()
                .encodeToString(MessageDigest.getInstance("SHA-256").digest(request.body()));
        assertThat(request.header("Content-digest")).isEqualTo("sha-256=:" + digest + ":");
        String parameters = request.header("Signature-input").substring("loopwarden=".length());
        Map<String, String> covered = new LinkedHashMap<>();
        covered.put("@method", "POST");
        covered.put("@target-uri", request.target().toString());
        covered.put("content-digest", request.header("Content-digest"));
        String expected =
                Base64.getEncoder().encodeToString(HttpSignature.sign(HttpSignature.base(covered, parameters), KEY));
        assertThat(request.header("Signature")).isEqualTo("loopwarden=:" + expected + ":");
        assertThat(parameters)
                .contains("keyid=\"test\"")
                .contains("alg=\"hmac-sha256\"")
                .contains("created=");
    }

    @Test
    void aReceiverThatFailsIsTriedAgainWithTheSameIdAndOneThatRefusesGivesADeadLetter() throws Exception {
        receiver.answers(request -> receiver.requests.size() < 4 ? 503 : 204);
        DeskRig rig = rig(webhook());
        rig.set(next++, true);
        await().until(() -> receiver.requests.size() == 4);
        assertThat(receiver.requests.stream().map(OnCallIT::id).distinct()).hasSize(1);
        await().until(() -> rig.outbox.newest(1).get(0).state().equals("delivered"));

        receiver.answers(request -> 410);
        rig.set(next++, true);
        await().until(() -> !rig.outbox.dead(1).isEmpty());
        OutboxMessage dead = rig.outbox.dead(1).get(0);
        assertThat(dead.lastError()).contains("410").doesNotContain("key of the test");
        assertThat(dead.attempts()).isEqualTo(1);
        receiver.answers(request -> 204);
        assertThat(rig.outbox.revive(dead.id(), Instant.now())).isTrue();
        await().until(() -> rig.outbox.dead(1).isEmpty());
    }

    @Test
    void aGatewayGetsItsTemplateWithEachValueEscapedForItsPlace() throws Exception {
        Channel pager = new TemplateChannel(
                "pager",
                "POST",
                receiver.address("/page/").toString() + "{address}?p={priority}",
                Map.of("Content-Type", "application/json", "Idempotency-Key", "{id}"),
                "{\"to\":\"{address}\",\"text\":\"{text}\"}");
        DeskRig rig = rig(pager);
        rig.set(next++, true);
        await().until(() -> receiver.requests.size() == 1);
        Receiver.Request request = receiver.requests.get(0);
        assertThat(request.target().getRawPath()).isEqualTo("/page/ines%40example.org");
        JsonNode body = DeskRig.JSON.readTree(request.body());
        assertThat(body.get("text").asText()).contains("\nFirst: Look at it.");
        assertThat(request.header("Idempotency-key"))
                .isEqualTo(rig.outbox.newest(1).get(0).id().toString());
    }

    @Test
    void tenThousandChangesInAMinuteLoseNoTransitionAndSendOneMessageForEachIncidentAndPerson() throws Exception {
        int sources = 500;
        int flips = 20;
        DeskRig rig = rig(webhook());
        int first = next;
        next += sources;
        Instant begin = Instant.now();
        for (int flip = 0; flip < flips; flip++) {
            boolean there = flip % 2 == 0;
            for (int n = first; n < first + sources; n++) {
                rig.set(n, there);
            }
            await().pollInterval(Duration.ofMillis(10))
                    .atMost(Duration.ofSeconds(30))
                    .until(() -> rig.desk.snapshot().kept()
                            && rig.desk.snapshot().alarms().values().stream()
                                            .filter(alarm -> alarm.condition() == there)
                                            .count()
                                    == sources);
        }
        Duration taken = Duration.between(begin, Instant.now());
        List<Transition> history =
                rig.store.history(begin.minusSeconds(1), Instant.now().plusSeconds(1));
        assertThat(history).hasSize(sources * flips);
        assertNothingIsMissing(history);
        assertThat(taken).isLessThan(Duration.ofSeconds(60));

        await().atMost(Duration.ofSeconds(30)).until(() -> receiver.requests.size() >= sources);
        List<OutboxMessage> messages = rig.outbox.newest(2 * sources);
        assertThat(messages).hasSize(sources);
        assertThat(messages.stream().map(OutboxMessage::incident).distinct()).hasSize(sources);
        System.out.printf(
                "%d alarm changes kept in %.1f s, %d incidents, %d messages%n",
                history.size(), taken.toMillis() / 1e3, sources, messages.size());
    }

    /** Each alarm's lines follow one another without a hole. */
    private static void assertNothingIsMissing(List<Transition> history) {
        Map<Object, AlarmState> state = new HashMap<>();
        for (Transition line : history) {
            assertThat(line.from()).isEqualTo(state.getOrDefault(line.id(), AlarmState.NORMAL));
            state.put(line.id(), line.to());
        }
    }

    static String id(Receiver.Request request) {
        try {
            return DeskRig.JSON.readTree(request.body()).get("id").asText();
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
