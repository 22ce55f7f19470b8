package io.loopwarden.fleetfile;

import io.loopwarden.yaml.Fault;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Adds to a fleet folder what a person set up. Tried on a copy first: the folder changes only if that brings no new fault; comments and
 * order of what is there stay.
 */
public final class FleetFolderEdit {

    /**
     * @param connection name, protocol, endpoint and settings of a new connection; empty to use one that is there
     * @param files new files by their path in the folder, {@code maps/…} or {@code nameplates/…}
     */
    public record Addition(
            String unit,
            String hall,
            String nameplate,
            String connectionName,
            String nameAtSource,
            String map,
            Optional<NewConnection> connection,
            Map<String, String> files) {}

    public record NewConnection(String protocol, String endpoint, Map<String, String> settings) {}

    private static final String FLEET = "fleet.yaml";

    private final Path folder;

    public FleetFolderEdit(Path folder) {
        this.folder = folder;
    }

    /**
     * @return the folder as it now loads
     * @throws IllegalArgumentException if the addition would bring faults; the message names them
     * @throws IOException if the folder cannot be written
     */
    public synchronized FleetConfig add(Addition addition) throws IOException {
        for (String file : addition.files().keySet()) {
            if (!file.matches("(maps|nameplates)/[a-z0-9][a-z0-9._-]{0,80}\\.yaml")) {
                throw new IllegalArgumentException("'" + file + "' is no name for a file of the fleet folder");
            }
            if (Files.exists(folder.resolve(file))) {
                throw new IllegalArgumentException(file + " is there already; choose another name");
            }
        }
        Path trial = Files.createTempDirectory("fleet-trial");
        try {
            copy(folder, trial);
            write(trial, addition);
            List<String> before = messages(FleetFolder.load(folder));
            FleetConfig tried = FleetFolder.load(trial);
            List<String> fresh = new ArrayList<>(messages(tried));
            before.forEach(fresh::remove);
            boolean there =
                    tried.units().stream().anyMatch(unit -> unit.id().value().equals(addition.unit()));
            if (!fresh.isEmpty() || !there) {
                throw new IllegalArgumentException(
                        fresh.isEmpty() ? "unit " + addition.unit() + " could not be added" : String.join("; ", fresh));
            }
            write(folder, addition);
            return FleetFolder.load(folder);
        } finally {
            delete(trial);
        }
    }

    /** Without line numbers: those of later lines move. */
    private static List<String> messages(FleetConfig config) {
        return config.faults().stream()
                .map((Fault fault) -> fault.file() + ": " + fault.field() + " " + fault.message())
                .toList();
    }

    private static void write(Path target, Addition addition) throws IOException {
        for (Map.Entry<String, String> file : addition.files().entrySet()) {
            Path path = target.resolve(file.getKey());
            Files.createDirectories(path.getParent());
            Files.writeString(path, file.getValue());
        }
        String text = Files.readString(target.resolve(FLEET));
        if (addition.connection().isPresent()) {
            text = insert(text, "connections", connection(addition));
        }
        Path fresh = target.resolve(FLEET + ".new");
        Files.writeString(fresh, insert(text, "units", unit(addition)));
        Files.move(fresh, target.resolve(FLEET), StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
    }

    private static String unit(Addition a) {
        return "  - {id: " + quoted(a.unit()) + ", hall: " + quoted(a.hall()) + ", nameplate: " + quoted(a.nameplate())
                + ", connection: " + quoted(a.connectionName()) + ", name-at-source: " + quoted(a.nameAtSource())
                + ", map: " + quoted(a.map()) + "}";
    }

    private static String connection(Addition a) {
        NewConnection c = a.connection().orElseThrow();
        String settings = c.settings().entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .map(setting -> quoted(setting.getKey()) + ": " + quoted(setting.getValue()))
                .collect(Collectors.joining(", "));
        return "  - {name: " + quoted(a.connectionName()) + ", protocol: " + c.protocol() + ", endpoint: "
                + quoted(c.endpoint()) + ", settings: {" + settings + "}}";
    }

    private static String quoted(String text) {
        return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
    }

    /** Puts a line at the end of a top-level list, before what follows it. */
    private static String insert(String text, String list, String line) {
        List<String> lines = new ArrayList<>(text.lines().toList());
        int head = -1;
        for (int n = 0; n < lines.size() && head < 0; n++) {
            head = lines.get(n).matches(list + ":\\s*(\\[\\s*\\])?\\s*(#.*)?") ? n : -1;
        }
        if (head < 0) {
            lines.add(list + ":");
            lines.add(line);
        } else {
            lines.set(head, list + ":");
            int end = head + 1;
            int last = head;
            while (end < lines.size() && !lines.get(end).matches("[^\\s#-].*")) {
                if (!lines.get(end).isBlank() && !lines.get(end).startsWith("#")) {
                    last = end;
                }
                end++;
            }
            boolean flush = last > head && lines.get(head + 1).startsWith("- ");
            lines.add(last + 1, flush ? line.substring(2) : line);
        }
        return String.join("\n", lines) + "\n";
    }

    private static void copy(Path from, Path to) throws IOException {
        try (Stream<Path> files = Files.walk(from, 2)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                Path target = to.resolve(from.relativize(file).toString());
                Files.createDirectories(target.getParent());
                Files.copy(file, target);
            }
        }
    }

    private static void delete(Path folder) {
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
