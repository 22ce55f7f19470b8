package io.loopwarden.oncall;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.cloudevents.CloudEvent;
import io.cloudevents.core.builder.CloudEventBuilder;
import io.cloudevents.core.format.EventFormat;
import io.cloudevents.jackson.JsonFormat;
import io.loopwarden.store.alarm.OutboxMessage;
import java.net.URI;
import java.net.http.HttpRequest;
import java.time.Clock;
import java.time.ZoneOffset;

/** Posts a message as a CloudEvent (version 1.0, structured JSON), signed with a shared key. */
final class WebhookChannel implements Channel {

    private final String name;
    private final URI target;
    private final String keyId;
    private final byte[] key;
    private final URI source;
    private final ObjectMapper json;
    private final Clock clock;
    private final EventFormat format = new JsonFormat();

    /** @param source who sends: the service's own address */
    WebhookChannel(String name, URI target, String keyId, byte[] key, URI source, ObjectMapper json, Clock clock) {
        this.name = name;
        this.target = target;
        this.keyId = keyId;
        this.key = key.clone();
        this.source = source;
        this.json = json;
        this.clock = clock;
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public String kind() {
        return "webhook";
    }

    @Override
    public void send(OutboxMessage envelope, Message message) throws DeliveryException {
        byte[] body = format.serialize(event(message));
        HttpRequest.Builder request = HttpRequest.newBuilder(target)
                .timeout(Http.TIMEOUT)
                .header("Content-Type", JsonFormat.CONTENT_TYPE + "; charset=utf-8")
                .POST(HttpRequest.BodyPublishers.ofByteArray(body));
        HttpSignature.headers("POST", target, body, keyId, key, clock.instant()).forEach(request::header);
        Http.send(name, request.build());
    }

    private CloudEvent event(Message message) throws DeliveryException {
        try {
            CloudEventBuilder event = CloudEventBuilder.v1()
                    .withId(message.id().toString())
                    .withSource(source)
                    .withType(message.type())
                    .withTime(message.at().atOffset(ZoneOffset.UTC))
                    .withData("application/json", json.writeValueAsBytes(message));
            return message.place().isEmpty()
                    ? event.build()
                    : event.withSubject(message.place()).build();
        } catch (JsonProcessingException e) {
            throw new DeliveryException("channel " + name + ": the message cannot be written as JSON", true, e);
        }
    }
}
