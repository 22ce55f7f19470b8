package io.loopwarden.yaml;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Pattern;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;

/**
 * The fields of one mapping. Asking for a field that is missing or of another kind adds a fault and answers empty, so that a
 * reader can go on and find the rest.
 */
public final class YamlMap {

    private static final Pattern NUMBER = Pattern.compile("[-+]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][-+]?\\d+)?");

    private record Field(int line, Node value) {}

    private final String file;
    private final String path;
    private final int line;
    private final Faults faults;
    private final Map<String, Field> fields = new LinkedHashMap<>();

    YamlMap(String file, String path, MappingNode node, Faults faults) {
        this.file = file;
        this.path = path;
        this.line = YamlFile.lineOf(node);
        this.faults = faults;
        for (NodeTuple tuple : node.getValue()) {
            int keyLine = YamlFile.lineOf(tuple.getKeyNode());
            if (!(tuple.getKeyNode() instanceof ScalarNode key)) {
                faults.add(file, keyLine, path, "a field name must be a word");
            } else if (fields.putIfAbsent(key.getValue(), new Field(keyLine, tuple.getValueNode())) != null) {
                faults.add(file, keyLine, pathOf(key.getValue()), "is there twice");
            }
        }
    }

    public String file() {
        return file;
    }

    /** Line on which the mapping begins. */
    public int line() {
        return line;
    }

    public int lineOf(String key) {
        Field field = fields.get(key);
        return field == null ? line : field.line();
    }

    public boolean has(String key) {
        return fields.containsKey(key);
    }

    public Set<String> keys() {
        return fields.keySet();
    }

    /** Path of a field of this mapping, for example {@code points[3].unit}. */
    public String pathOf(String key) {
        return path.isEmpty() ? key : path + "." + key;
    }

    public void fault(String key, String message) {
        faults.add(file, lineOf(key), pathOf(key), message);
    }

    public Optional<String> text(String key) {
        return field(key).flatMap(field -> scalar(field.value(), pathOf(key))).map(YamlText::value);
    }

    public Optional<String> requiredText(String key) {
        return present(key) ? text(key) : Optional.empty();
    }

    public OptionalDouble number(String key) {
        return text(key).map(value -> toNumber(key, value)).orElse(OptionalDouble.empty());
    }

    public OptionalInt integer(String key, int least, int most) {
        OptionalDouble number = number(key);
        if (number.isEmpty()) {
            return OptionalInt.empty();
        }
        double value = number.getAsDouble();
        if (value != Math.rint(value) || value < least || value > most) {
            fault(key, "'" + text(key).orElseThrow() + "' is not a whole number from " + least + " to " + most);
            return OptionalInt.empty();
        }
        return OptionalInt.of((int) value);
    }

    /** One of the words that {@code choices} knows. */
    public <T> Optional<T> choice(String key, Map<String, T> choices) {
        return text(key).flatMap(word -> {
            if (!choices.containsKey(word)) {
                fault(
                        key,
                        "'" + word + "' is not one of " + String.join(", ", choices.keySet())
                                + Nearest.hint(word, choices.keySet()));
            }
            return Optional.ofNullable(choices.get(word));
        });
    }

    public <T> Optional<T> requiredChoice(String key, Map<String, T> choices) {
        return present(key) ? choice(key, choices) : Optional.empty();
    }

    public Optional<YamlMap> map(String key) {
        return field(key).flatMap(field -> mapping(field.value(), pathOf(key)));
    }

    /** The mappings in a list; items of another kind are faults and left out. */
    public List<YamlMap> maps(String key) {
        return list(key, (node, itemPath) -> mapping(node, itemPath));
    }

    /** The scalars in a list; items of another kind are faults and left out. */
    public List<YamlText> texts(String key) {
        return list(key, (node, itemPath) -> scalar(node, itemPath));
    }

    /** The numbers in a list; empty, and a fault, if one is not a number. */
    public Optional<List<Double>> numbers(String key) {
        if (!has(key)) {
            return Optional.empty();
        }
        int before = faults.count();
        List<Double> numbers = new ArrayList<>();
        for (YamlText item : texts(key)) {
            toNumber(key, item.value()).ifPresent(numbers::add);
        }
        return faults.count() == before ? Optional.of(numbers) : Optional.empty();
    }

    /** All fields as text, in order. */
    public Map<String, String> allTexts() {
        Map<String, String> texts = new LinkedHashMap<>();
        for (String key : fields.keySet()) {
            text(key).ifPresent(value -> texts.put(key, value));
        }
        return texts;
    }

    /** Adds a fault if the field is missing. */
    public boolean present(String key) {
        if (!has(key)) {
            faults.add(file, line, pathOf(key), "is missing");
            return false;
        }
        return true;
    }

    /** Adds a fault for each field that is none of {@code known}. */
    public void refuseOthers(Collection<String> known) {
        for (String key : fields.keySet()) {
            if (!known.contains(key)) {
                fault(key, "is not a field here" + Nearest.hint(key, known));
            }
        }
    }

    /** A finite decimal number, or empty. */
    public static OptionalDouble parseNumber(String text) {
        double number = NUMBER.matcher(text).matches() ? Double.parseDouble(text) : Double.NaN;
        return Double.isFinite(number) ? OptionalDouble.of(number) : OptionalDouble.empty();
    }

    private Optional<Field> field(String key) {
        return Optional.ofNullable(fields.get(key));
    }

    private OptionalDouble toNumber(String key, String value) {
        OptionalDouble number = parseNumber(value);
        if (number.isEmpty()) {
            fault(key, "'" + value + "' is not a number");
        }
        return number;
    }

    private interface ItemReader<T> {
        Optional<T> read(Node node, String itemPath);
    }

    private <T> List<T> list(String key, ItemReader<T> reader) {
        Optional<Field> field = field(key);
        if (field.isEmpty()) {
            return List.of();
        }
        if (!(field.get().value() instanceof SequenceNode sequence)) {
            fault(key, "must be a list");
            return List.of();
        }
        List<T> items = new ArrayList<>();
        for (int i = 0; i < sequence.getValue().size(); i++) {
            reader.read(sequence.getValue().get(i), pathOf(key) + "[" + i + "]").ifPresent(items::add);
        }
        return items;
    }

    private Optional<YamlMap> mapping(Node node, String nodePath) {
        return node instanceof MappingNode mapping
                ? Optional.of(new YamlMap(file, nodePath, mapping, faults))
                : refuse(node, nodePath, "must have fields of its own");
    }

    private Optional<YamlText> scalar(Node node, String nodePath) {
        if (!(node instanceof ScalarNode scalar)) {
            return refuse(node, nodePath, "must be one value");
        }
        return scalar.getValue().isBlank()
                ? refuse(node, nodePath, "is empty")
                : Optional.of(new YamlText(scalar.getValue().strip(), YamlFile.lineOf(node), nodePath));
    }

    private <T> Optional<T> refuse(Node node, String nodePath, String message) {
        faults.add(file, YamlFile.lineOf(node), nodePath, message);
        return Optional.empty();
    }
}
