package io.loopwarden.fleetfile;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.pointmap.PointMapFile;
import io.loopwarden.yaml.Nearest;
import io.loopwarden.yaml.YamlMap;
import java.net.URI;
import java.net.URISyntaxException;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;

/** Reads the list {@code connections} of the fleet file. */
final class ConnectionFields {

    /** A connection whose units are not known yet. */
    record Line(String name, String protocol, URI endpoint, Map<String, String> settings) {
        Connection with(List<ServedUnit> units) {
            return new Connection(name, protocol, endpoint, settings, units);
        }
    }

    private final Map<String, Line> good = new LinkedHashMap<>();
    private final Set<String> named = new LinkedHashSet<>();
    private final Variables variables;

    private ConnectionFields(Function<String, Optional<String>> variables) {
        this.variables = new Variables(variables);
    }

    static ConnectionFields read(YamlMap top, Function<String, Optional<String>> variables) {
        ConnectionFields fields = new ConnectionFields(variables);
        if (top.present("connections")) {
            top.maps("connections").forEach(fields::readOne);
        }
        return fields;
    }

    List<Line> good() {
        return List.copyOf(good.values());
    }

    Optional<Line> get(String name) {
        return Optional.ofNullable(good.get(name));
    }

    String missing(String name) {
        return named.contains(name)
                ? "connection '" + name + "' has faults"
                : "there is no connection '" + name + "'" + Nearest.hint(name, named);
    }

    private void readOne(YamlMap field) {
        field.refuseOthers(List.of("name", "protocol", "endpoint", "settings"));
        Optional<String> name = field.requiredText("name");
        boolean twice = name.isPresent() && !named.add(name.get());
        if (twice) {
            field.fault("name", "'" + name.get() + "' is the name of an earlier connection");
        }
        Map<String, String> protocols = new LinkedHashMap<>();
        PointMapFile.PROTOCOLS.forEach(known -> protocols.put(known, known));
        Optional<String> protocol = field.requiredChoice("protocol", protocols);
        Optional<URI> endpoint = field.requiredText("endpoint").flatMap(text -> endpoint(field, text));
        Optional<Map<String, String>> settings = settings(field);
        if (name.isPresent() && !twice && protocol.isPresent() && endpoint.isPresent() && settings.isPresent()) {
            good.put(name.get(), new Line(name.get(), protocol.get(), endpoint.get(), settings.get()));
        }
    }

    private Optional<URI> endpoint(YamlMap field, String text) {
        return variables.replace(field, "endpoint", text).flatMap(replaced -> {
            try {
                URI uri = new URI(replaced);
                if (uri.getScheme() != null && uri.getHost() != null) {
                    return Optional.of(uri);
                }
                field.fault("endpoint", "'" + text + "' is not scheme://host:port");
            } catch (URISyntaxException notUri) {
                field.fault("endpoint", "'" + text + "' is not scheme://host:port: " + notUri.getReason());
            }
            return Optional.empty();
        });
    }

    private Optional<Map<String, String>> settings(YamlMap field) {
        if (!field.has("settings")) {
            return Optional.of(Map.of());
        }
        Optional<YamlMap> given = field.map("settings");
        if (given.isEmpty()) {
            return Optional.empty();
        }
        Map<String, String> settings = new LinkedHashMap<>();
        given.get()
                .allTexts()
                .forEach((key, value) ->
                        variables.replace(given.get(), key, value).ifPresent(replaced -> settings.put(key, replaced)));
        return settings.size() == given.get().keys().size() ? Optional.of(settings) : Optional.empty();
    }
}
