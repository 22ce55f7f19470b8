package io.loopwarden.oncall;

import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.yaml.Fault;
import io.loopwarden.yaml.Faults;
import io.loopwarden.yaml.YamlFile;
import io.loopwarden.yaml.YamlMap;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Matcher;

/** Reads {@code channels.yaml} of the fleet folder: where messages can leave to. Secrets are in files or variables, never in it. */
public final class ChannelsFile {

    public static final String NAME = "channels.yaml";

    private static final Set<String> FIELDS =
            Set.of("id", "address", "person", "subject", "text", "priority", "place", "link", "acknowledge-link");
    private static final int LEAST_SECRET = 16;

    /** @param channels those without faults, by name */
    public record Channels(Map<String, Channel> channels, List<Fault> faults) {}

    private final Path data;
    private final URI address;
    private final ObjectMapper json;
    private final Clock clock;
    private final Faults faults = new Faults();

    private ChannelsFile(Path data, URI address, ObjectMapper json, Clock clock) {
        this.data = data;
        this.address = address;
        this.json = json;
        this.clock = clock;
    }

    /**
     * A missing file is no fault: then nothing leaves.
     *
     * @param data folder of the service's own files
     * @param address where people reach the service
     */
    public static Channels load(Path fleet, Path data, URI address, ObjectMapper json, Clock clock) {
        ChannelsFile reader = new ChannelsFile(data, address, json, clock);
        Map<String, Channel> channels = new LinkedHashMap<>();
        Path file = fleet.resolve(NAME);
        if (Files.exists(file)) {
            YamlFile.open(file, NAME, reader.faults).ifPresent(top -> {
                top.refuseOthers(List.of("channels"));
                for (YamlMap fields : top.maps("channels")) {
                    reader.channel(fields).ifPresent(channel -> {
                        if (channels.putIfAbsent(channel.name(), channel) != null) {
                            fields.fault("name", "'" + channel.name() + "' is there twice");
                        }
                    });
                }
            });
        }
        return new Channels(channels, reader.faults.sorted());
    }

    private Optional<Channel> channel(YamlMap fields) {
        int before = faults.count();
        Optional<String> name = fields.requiredText("name");
        Optional<String> kind = fields.requiredText("kind");
        if (name.isEmpty() || kind.isEmpty()) {
            return Optional.empty();
        }
        Optional<Channel> channel = switch (kind.get()) {
            case "mail" -> mail(name.get(), fields);
            case "webhook" -> webhook(name.get(), fields);
            case "http" -> template(name.get(), fields);
            case "file" -> file(name.get(), fields);
            default -> {
                fields.fault("kind", "'" + kind.get() + "' is not one of mail, webhook, http, file");
                yield Optional.empty();
            }
        };
        return faults.count() == before ? channel : Optional.empty();
    }

    private Optional<Channel> mail(String name, YamlMap fields) {
        fields.refuseOthers(
                List.of("name", "kind", "host", "port", "tls", "from", "user", "password-file", "password-variable"));
        Optional<String> host = fields.requiredText("host");
        OptionalInt port = fields.integer("port", 1, 65_535);
        Optional<String> from = fields.requiredText("from");
        if (from.isPresent() && !from.get().contains("@")) {
            fields.fault("from", "'" + from.get() + "' is no mail address");
        }
        Map<String, String> choices = Map.of("none", "none", "start", "start", "tls", "tls");
        String tls = fields.has("tls") ? fields.choice("tls", choices).orElse("start") : "start";
        Optional<String> user = fields.text("user");
        Optional<String> password = secret(fields, "password");
        if (user.isPresent() != password.isPresent()) {
            fields.fault("user", "needs a password-file or password-variable, and the other way round");
        }
        if (user.isPresent() && tls.equals("none")) {
            fields.fault("tls", "is none: a password would be sent in clear; take start or tls");
        }
        if (host.isEmpty() || from.isEmpty()) {
            return Optional.empty();
        }
        int usual = tls.equals("tls") ? 465 : tls.equals("start") ? 587 : 25;
        return Optional.of(new MailChannel(
                name, new MailChannel.Settings(host.get(), port.orElse(usual), tls, from.get(), user, password)));
    }

    private Optional<Channel> webhook(String name, YamlMap fields) {
        fields.refuseOthers(List.of("name", "kind", "url", "key-id", "secret-file", "secret-variable"));
        Optional<URI> url = url(fields);
        Optional<String> secret = secret(fields, "secret");
        if (secret.isEmpty()) {
            fields.fault("secret-file", "a webhook needs a secret-file or secret-variable to sign with");
        } else if (secret.get().length() < LEAST_SECRET) {
            fields.fault("secret-file", "the secret is shorter than " + LEAST_SECRET + " characters");
        }
        String keyId = fields.text("key-id").orElse(name);
        if (keyId.contains("\"")) {
            fields.fault("key-id", "holds a quotation mark");
        }
        return url.flatMap(target -> secret.map(key ->
                new WebhookChannel(name, target, keyId, key.getBytes(StandardCharsets.UTF_8), address, json, clock)));
    }

    private Optional<Channel> template(String name, YamlMap fields) {
        fields.refuseOthers(
                List.of("name", "kind", "url", "method", "headers", "body", "token-file", "token-variable"));
        Optional<String> url = fields.requiredText("url");
        url.ifPresent(text -> checkTemplate(fields, "url", text));
        if (url.isPresent() && !url.get().startsWith("http://") && !url.get().startsWith("https://")) {
            fields.fault("url", "'" + url.get() + "' does not begin with http:// or https://");
        }
        Map<String, String> methods = Map.of("POST", "POST", "PUT", "PUT", "GET", "GET");
        String method = fields.has("method") ? fields.choice("method", methods).orElse("POST") : "POST";
        Map<String, String> headers =
                new LinkedHashMap<>(fields.map("headers").map(YamlMap::allTexts).orElse(Map.of()));
        headers.forEach((key, value) -> checkTemplate(fields, "headers", value));
        secret(fields, "token").ifPresent(token -> headers.put("Authorization", "Bearer " + token));
        String body = fields.text("body").orElse("");
        checkTemplate(fields, "body", body);
        return url.map(text -> new TemplateChannel(name, method, text, headers, body));
    }

    private static void checkTemplate(YamlMap fields, String key, String template) {
        Matcher field = TemplateChannel.FIELD.matcher(template);
        while (field.find()) {
            if (!FIELDS.contains(field.group(1))) {
                fields.fault(key, "{" + field.group(1) + "} is not one of " + FIELDS);
            }
        }
    }

    private Optional<Channel> file(String name, YamlMap fields) {
        fields.refuseOthers(List.of("name", "kind", "file"));
        return fields.requiredText("file").map(file -> new FileChannel(name, data.resolve(file), json));
    }

    private static Optional<URI> url(YamlMap fields) {
        Optional<String> text = fields.requiredText("url");
        try {
            Optional<URI> url = text.map(URI::create)
                    .filter(uri -> uri.getHost() != null
                            && String.valueOf(uri.getScheme()).startsWith("http"));
            if (text.isPresent() && url.isEmpty()) {
                fields.fault("url", "'" + text.get() + "' is no http or https address");
            }
            return url;
        } catch (IllegalArgumentException e) {
            fields.fault("url", "'" + text.orElse("") + "' is no address");
            return Optional.empty();
        }
    }

    private static Optional<String> secret(YamlMap fields, String what) {
        Optional<String> variable = fields.text(what + "-variable");
        if (variable.isPresent()) {
            Optional<String> value = Optional.ofNullable(System.getenv(variable.get()));
            if (value.isEmpty()) {
                fields.fault(what + "-variable", "the environment has no variable '" + variable.get() + "'");
            }
            return value;
        }
        return fields.text(what + "-file").flatMap(file -> {
            try {
                return Optional.of(Files.readString(Path.of(file)).strip());
            } catch (IOException e) {
                fields.fault(what + "-file", "'" + file + "' cannot be read");
                return Optional.empty();
            }
        });
    }
}
