package io.loopwarden.yaml;

import java.io.IOException;
import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CoderResult;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.error.MarkedYAMLException;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.events.AliasEvent;
import org.yaml.snakeyaml.events.Event;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.reader.ReaderException;

/** Opens YAML documents whose top is a mapping. Size and nesting are bounded; aliases are refused. */
public final class YamlFile {

    static final int MAX_BYTES = 1 << 20;
    static final int MAX_NESTING = 20;

    private YamlFile() {}

    /** @param name how faults name the file */
    public static Optional<YamlMap> open(Path path, String name, Faults faults) {
        try {
            if (Files.size(path) > MAX_BYTES) {
                faults.add(name, 1, "", "is longer than " + MAX_BYTES + " bytes");
                return Optional.empty();
            }
            return decode(Files.readAllBytes(path), name, faults).flatMap(text -> parse(text, name, faults));
        } catch (NoSuchFileException missing) {
            faults.add(name, 1, "", "does not exist");
        } catch (IOException unreadable) {
            faults.add(name, 1, "", "cannot be read: " + unreadable.getMessage());
        }
        return Optional.empty();
    }

    /** The document in {@code text}; empty, and at least one fault, if it has no mapping at its top. */
    public static Optional<YamlMap> parse(String text, String name, Faults faults) {
        if (text.length() > MAX_BYTES) {
            faults.add(name, 1, "", "is longer than " + MAX_BYTES + " bytes");
            return Optional.empty();
        }
        try {
            if (hasAlias(text, name, faults)) {
                return Optional.empty();
            }
            Node top = yaml().compose(new StringReader(text));
            if (top instanceof MappingNode mapping) {
                return Optional.of(new YamlMap(name, "", mapping, faults));
            }
            faults.add(name, top == null ? 1 : lineOf(top), "", "has no fields; expected 'name: value' lines");
        } catch (MarkedYAMLException notYaml) {
            faults.add(name, lineOf(notYaml), "", "is not YAML: " + oneLine(notYaml.getProblem()) + hint(notYaml));
        } catch (ReaderException badCharacter) {
            String problem = "has the control character " + String.format("0x%02X", badCharacter.getCodePoint());
            faults.add(name, lineAt(text, badCharacter.getPosition()), "", problem);
        } catch (YAMLException tooDeep) {
            faults.add(name, 1, "", "is not YAML: " + oneLine(tooDeep.getMessage()));
        }
        return Optional.empty();
    }

    static int lineOf(Node node) {
        return node.getStartMark().getLine() + 1;
    }

    private static Yaml yaml() {
        LoaderOptions options = new LoaderOptions();
        options.setNestingDepthLimit(MAX_NESTING);
        options.setCodePointLimit(MAX_BYTES);
        options.setMaxAliasesForCollections(0);
        return new Yaml(options);
    }

    /** Aliases can make a small file stand for a huge tree, and hide where a value comes from. */
    private static boolean hasAlias(String text, String name, Faults faults) {
        boolean found = false;
        for (Event event : yaml().parse(new StringReader(text))) {
            if (event instanceof AliasEvent alias) {
                int line = alias.getStartMark().getLine() + 1;
                faults.add(name, line, "", "alias '*" + alias.getAnchor() + "' is not allowed, write the value out");
                found = true;
            }
        }
        return found;
    }

    private static Optional<String> decode(byte[] bytes, String name, Faults faults) {
        ByteBuffer in = ByteBuffer.wrap(bytes);
        CharBuffer out = CharBuffer.allocate(bytes.length);
        CoderResult result = StandardCharsets.UTF_8.newDecoder().decode(in, out, true);
        out.flip();
        if (result.isError()) {
            faults.add(name, lineAt(out.toString(), out.length()), "", "is not UTF-8 text");
            return Optional.empty();
        }
        return Optional.of(out.toString());
    }

    /** The commonest slip with UCUM codes. */
    private static String hint(MarkedYAMLException notYaml) {
        boolean bracket = notYaml.getProblem() != null && notYaml.getProblem().endsWith("but got [");
        return bracket ? "; text with [ ] inside { } must be in quotes" : "";
    }

    private static int lineOf(MarkedYAMLException fault) {
        if (fault.getProblemMark() != null) {
            return fault.getProblemMark().getLine() + 1;
        }
        return fault.getContextMark() == null ? 1 : fault.getContextMark().getLine() + 1;
    }

    private static int lineAt(String text, int position) {
        int end = Math.min(position, text.length());
        return 1 + (int) text.substring(0, end).chars().filter(c -> c == '\n').count();
    }

    private static String oneLine(String message) {
        return message == null ? "unreadable" : message.replaceAll("\\s+", " ").strip();
    }
}
