package io.loopwarden.fleetfile;

import io.loopwarden.collector.Connection;
import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.fleet.Unit;
import io.loopwarden.pointmap.PointMapFile;
import io.loopwarden.yaml.Fault;
import io.loopwarden.yaml.Faults;
import io.loopwarden.yaml.Loaded;
import io.loopwarden.yaml.YamlFile;
import io.loopwarden.yaml.YamlMap;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * Reads a fleet folder: {@code fleet.yaml}, {@code nameplates/*.yaml}, {@code maps/*.yaml}. What has a fault is left out together with
 * what needs it, the rest is loaded.
 */
public final class FleetFolder {

    private static final String FLEET = "fleet.yaml";

    private final Path folder;
    private final Function<String, Optional<String>> variables;
    private final Faults faults = new Faults();

    private FleetFolder(Path folder, Function<String, Optional<String>> variables) {
        this.folder = Objects.requireNonNull(folder, "folder");
        this.variables = Objects.requireNonNull(variables, "variables");
    }

    /** Reads the folder; {@code ${NAME}} in endpoints and settings stands for a variable of the process's environment. */
    public static FleetConfig load(Path folder) {
        return load(folder, name -> Optional.ofNullable(System.getenv(name)));
    }

    /** @param variables what {@code ${NAME}} in endpoints and settings stands for */
    public static FleetConfig load(Path folder, Function<String, Optional<String>> variables) {
        return new FleetFolder(folder, variables).load();
    }

    private FleetConfig load() {
        Named<NameplateFile> nameplates = readAll("nameplates", NameplateFile::load, NameplateFile::name);
        Named<PointMapFile> maps =
                readAll("maps", PointMapFile::load, file -> file.map().name());
        Optional<YamlMap> top = YamlFile.open(folder.resolve(FLEET), FLEET, faults);
        if (top.isEmpty()) {
            return new FleetConfig("unnamed site", ZoneOffset.UTC, List.of(), List.of(), faults.sorted());
        }
        top.get().refuseOthers(List.of("site", "connections", "units"));
        Optional<YamlMap> site = top.get().present("site") ? top.get().map("site") : Optional.empty();
        String siteName = site.flatMap(s -> s.requiredText("name")).orElse("unnamed site");
        ZoneId zone = site.flatMap(this::zone).orElse(ZoneOffset.UTC);
        site.ifPresent(s -> s.refuseOthers(List.of("name", "zone")));

        ConnectionFields lines = ConnectionFields.read(top.get(), variables);
        UnitFields fields = new UnitFields(siteName, nameplates, maps, lines);
        List<Unit> units = new ArrayList<>();
        Map<String, List<ServedUnit>> served = new LinkedHashMap<>();
        if (top.get().present("units")) {
            for (YamlMap field : top.get().maps("units")) {
                fields.read(field).ifPresent(unit -> {
                    units.add(unit.unit());
                    unit.served()
                            .ifPresent(one -> served.computeIfAbsent(unit.connection(), name -> new ArrayList<>())
                                    .add(one));
                });
            }
        }
        List<Connection> connections = lines.good().stream()
                .map(line -> line.with(served.getOrDefault(line.name(), List.of())))
                .toList();
        return new FleetConfig(siteName, zone, units, connections, faults.sorted());
    }

    private Optional<ZoneId> zone(YamlMap site) {
        return site.requiredText("zone").flatMap(text -> {
            try {
                return Optional.of(ZoneId.of(text));
            } catch (DateTimeException unknown) {
                site.fault("zone", "'" + text + "' is no offset such as \"+01:00\" and no zone's name");
                return Optional.empty();
            }
        });
    }

    /** The files of one sub-folder by the name they give themselves. */
    private <T> Named<T> readAll(
            String subFolder, BiFunction<Path, String, Loaded<T>> reader, Function<T, String> nameOf) {
        Named<T> named = new Named<>();
        for (Path path : yamlFiles(subFolder)) {
            String fileName = subFolder + "/" + path.getFileName();
            Loaded<T> loaded = reader.apply(path, fileName);
            faults.addAll(loaded.faults());
            loaded.value()
                    .ifPresentOrElse(
                            value -> named.add(nameOf.apply(value), fileName, value)
                                    .ifPresent(other -> faults.add(duplicate(fileName, nameOf.apply(value), other))),
                            () -> named.addBroken(fileName));
        }
        return named;
    }

    private static Fault duplicate(String fileName, String name, String other) {
        return new Fault(fileName, 1, "", "has the name '" + name + "', as " + other + " has; it is left out");
    }

    private List<Path> yamlFiles(String subFolder) {
        Path directory = folder.resolve(subFolder);
        try (Stream<Path> files = Files.list(directory)) {
            return files.filter(file -> file.getFileName().toString().endsWith(".yaml"))
                    .sorted()
                    .toList();
        } catch (IOException missing) {
            faults.add(subFolder, 1, "", "cannot be listed in the fleet folder: " + missing.getMessage());
            return List.of();
        }
    }
}
