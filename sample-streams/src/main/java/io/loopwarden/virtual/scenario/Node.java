package io.loopwarden.virtual.scenario;

import java.io.IOException;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;

/** A mapping of a YAML file that knows where it stands, so that a fault can be named. */
final class Node {

    private final String place;
    private final Map<?, ?> fields;

    private Node(String place, Map<?, ?> fields) {
        this.place = place;
        this.fields = fields;
    }

    static Node load(Path file) {
        try (Reader reader = Files.newBufferedReader(file)) {
            Object top = new Yaml(new SafeConstructor(new LoaderOptions())).load(reader);
            return of(file.getFileName().toString(), top);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static Node of(String place, Object value) {
        if (value instanceof Map<?, ?> map) {
            return new Node(place, map);
        }
        throw new IllegalArgumentException(place + " must be a mapping, not " + value);
    }

    boolean has(String key) {
        return fields.get(key) != null;
    }

    String text(String key) {
        return require(key).toString();
    }

    String text(String key, String otherwise) {
        return has(key) ? text(key) : otherwise;
    }

    double number(String key) {
        Object value = require(key);
        if (value instanceof Number number) {
            return number.doubleValue();
        }
        try {
            // YAML 1.1 takes 4e-5 for text: it wants a point.
            return Double.parseDouble(value.toString());
        } catch (NumberFormatException e) {
            throw new IllegalArgumentException(place + ": '" + key + "' must be a number, not '" + value + "'", e);
        }
    }

    double number(String key, double otherwise) {
        return has(key) ? number(key) : otherwise;
    }

    Node map(String key) {
        return of(place + "/" + key, require(key));
    }

    List<Node> list(String key) {
        if (!has(key)) {
            return List.of();
        }
        if (!(fields.get(key) instanceof List<?> list)) {
            throw new IllegalArgumentException(place + ": '" + key + "' must be a list");
        }
        List<Node> nodes = new ArrayList<>();
        for (Object item : list) {
            nodes.add(of(place + "/" + key + "[" + nodes.size() + "]", item));
        }
        return nodes;
    }

    Map<String, Node> maps(String key) {
        Map<String, Node> nodes = new LinkedHashMap<>();
        if (has(key)) {
            Node inner = map(key);
            inner.fields.keySet().forEach(name -> nodes.put(name.toString(), inner.map(name.toString())));
        }
        return nodes;
    }

    Map<String, String> texts(String key) {
        Map<String, String> texts = new LinkedHashMap<>();
        if (has(key)) {
            map(key).fields.forEach((name, value) -> texts.put(name.toString(), String.valueOf(value)));
        }
        return texts;
    }

    void refuseOthers(List<String> known) {
        for (Object key : fields.keySet()) {
            if (!known.contains(key.toString())) {
                throw new IllegalArgumentException(place + ": unknown field '" + key + "'; known are " + known);
            }
        }
    }

    private Object require(String key) {
        Object value = fields.get(key);
        if (value == null) {
            throw new IllegalArgumentException(place + ": '" + key + "' is missing");
        }
        return value;
    }
}
