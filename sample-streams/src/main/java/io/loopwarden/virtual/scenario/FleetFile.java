package io.loopwarden.virtual.scenario;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/** The service's fleet folder, seen from the other end of the line: who is to be served where, under which name and tags. */
public record FleetFile(Path folder, List<Line> lines, List<Served> units, Map<String, TagMap> maps) {

    /** A connection as the fleet file has it. */
    public record Line(String name, String protocol, String endpoint, Map<String, String> settings) {}

    /** A unit and how it is reached. */
    public record Served(
            String id, String hall, String nameplate, String connection, String nameAtSource, String map) {}

    public static FleetFile load(Path folder) {
        Node top = Node.load(folder.resolve("fleet.yaml"));
        List<Line> lines = top.list("connections").stream()
                .map(node -> new Line(
                        node.text("name"), node.text("protocol"), node.text("endpoint"), node.texts("settings")))
                .toList();
        List<Served> units = top.list("units").stream()
                .map(node -> new Served(
                        node.text("id"),
                        node.text("hall"),
                        node.text("nameplate"),
                        node.text("connection"),
                        node.text("name-at-source"),
                        node.text("map")))
                .toList();
        Map<String, TagMap> maps = new LinkedHashMap<>();
        for (Path file : yamlFiles(folder.resolve("maps"))) {
            TagMap map = TagMap.load(file);
            maps.put(map.name(), map);
        }
        return new FleetFile(folder, lines, units, Map.copyOf(maps));
    }

    public List<Served> unitsOf(Line line) {
        return units.stream()
                .filter(unit -> unit.connection().equals(line.name()))
                .toList();
    }

    public TagMap mapOf(Served unit) {
        TagMap map = maps.get(unit.map());
        if (map == null) {
            throw new IllegalArgumentException(
                    "fleet.yaml: unit " + unit.id() + " names map '" + unit.map() + "', there are " + maps.keySet());
        }
        return map;
    }

    /** Writes a copy of the folder in which each connection has the endpoint that is really served. */
    public void writeResolved(Path target, Map<String, String> endpoints) {
        try {
            for (String part : List.of("nameplates", "maps")) {
                Files.createDirectories(target.resolve(part));
                for (Path file : yamlFiles(folder.resolve(part))) {
                    Files.copy(
                            file,
                            target.resolve(part).resolve(file.getFileName()),
                            StandardCopyOption.REPLACE_EXISTING);
                }
            }
            for (Path file : yamlFiles(folder)) {
                if (!file.endsWith("fleet.yaml")) {
                    Files.copy(file, target.resolve(file.getFileName()), StandardCopyOption.REPLACE_EXISTING);
                }
            }
            Path whole = target.resolve("fleet.yaml.part");
            Files.writeString(whole, withEndpoints(endpoints));
            Files.move(whole, target.resolve("fleet.yaml"), StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Line by line, so that the comments stay. */
    private String withEndpoints(Map<String, String> endpoints) throws IOException {
        StringBuilder text = new StringBuilder();
        String current = "";
        for (String line : Files.readAllLines(folder.resolve("fleet.yaml"))) {
            String word = line.strip();
            if (word.startsWith("- name:")) {
                current = word.substring("- name:".length()).strip();
            }
            boolean endpoint = word.startsWith("endpoint:") && endpoints.containsKey(current);
            text.append(endpoint ? line.substring(0, line.indexOf("endpoint:")) : line);
            text.append(endpoint ? "endpoint: " + endpoints.get(current) : "").append('\n');
        }
        return text.toString();
    }

    private static List<Path> yamlFiles(Path folder) {
        try (Stream<Path> files = Files.list(folder)) {
            return files.filter(file -> file.toString().endsWith(".yaml"))
                    .sorted()
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
