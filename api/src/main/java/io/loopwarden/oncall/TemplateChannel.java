package io.loopwarden.oncall;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import io.loopwarden.store.alarm.OutboxMessage;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpRequest;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** An HTTP request made of a template, for gateways of pagers and telephones; each value is escaped for the place it stands in. */
final class TemplateChannel implements Channel {

    static final Pattern FIELD = Pattern.compile("\\{([a-z-]+)}");

    private final String name;
    private final String method;
    private final String address;
    private final Map<String, String> headers;
    private final String body;

    TemplateChannel(String name, String method, String address, Map<String, String> headers, String body) {
        this.name = name;
        this.method = method;
        this.address = address;
        this.headers = Map.copyOf(headers);
        this.body = body;
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public String kind() {
        return "http";
    }

    /** What a template can name. */
    static Map<String, String> fields(OutboxMessage envelope, Message message) {
        return Map.of(
                "id", message.id().toString(),
                "address", envelope.address(),
                "person", envelope.person(),
                "subject", message.subject(),
                "text", message.text(),
                "priority", message.priority(),
                "place", message.place(),
                "link", message.link(),
                "acknowledge-link", message.acknowledgeLink());
    }

    @Override
    public void send(OutboxMessage envelope, Message message) throws DeliveryException {
        Map<String, String> fields = fields(envelope, message);
        HttpRequest.Builder request;
        try {
            request = HttpRequest.newBuilder(URI.create(fill(address, fields, TemplateChannel::inAddress)));
            request.timeout(Http.TIMEOUT);
            headers.forEach((key, value) -> request.header(key, fill(value, fields, TemplateChannel::inHeader)));
        } catch (IllegalArgumentException e) {
            throw new DeliveryException(
                    "channel " + name + ": the template gives no request: " + e.getMessage(), true, e);
        }
        request.method(method, HttpRequest.BodyPublishers.ofString(fill(body, fields, escape())));
        Http.send(name, request.build());
    }

    private UnaryOperator<String> escape() {
        String type = headers.entrySet().stream()
                .filter(header -> header.getKey().equalsIgnoreCase("Content-Type"))
                .map(Map.Entry::getValue)
                .findFirst()
                .orElse("");
        if (type.contains("json")) {
            return text -> new String(JsonStringEncoder.getInstance().quoteAsString(text));
        }
        return type.contains("form-urlencoded")
                ? text -> URLEncoder.encode(text, StandardCharsets.UTF_8)
                : UnaryOperator.identity();
    }

    private static String inAddress(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8).replace("+", "%20");
    }

    private static String inHeader(String text) {
        return text.replaceAll("[\\r\\n]+", " ");
    }

    static String fill(String template, Map<String, String> fields, UnaryOperator<String> escape) {
        Matcher field = FIELD.matcher(template);
        return field.replaceAll(match -> Matcher.quoteReplacement(
                fields.containsKey(match.group(1)) ? escape.apply(fields.get(match.group(1))) : match.group()));
    }
}
