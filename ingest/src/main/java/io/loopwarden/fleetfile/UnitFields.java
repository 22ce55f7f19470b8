package io.loopwarden.fleetfile;

import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.pointmap.PointMap;
import io.loopwarden.pointmap.PointMapFile;
import io.loopwarden.yaml.YamlMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads the list {@code units} of the fleet file. */
final class UnitFields {

    /** @param served how it is read; empty if its map or connection has a fault */
    record Read(Unit unit, String connection, Optional<ServedUnit> served) {}

    private final String site;
    private final Named<NameplateFile> nameplates;
    private final Named<PointMapFile> maps;
    private final ConnectionFields connections;
    private final Map<UnitId, Integer> lines = new HashMap<>();
    private final Map<String, Integer> namesAtSource = new HashMap<>();

    UnitFields(String site, Named<NameplateFile> nameplates, Named<PointMapFile> maps, ConnectionFields connections) {
        this.site = site;
        this.nameplates = nameplates;
        this.maps = maps;
        this.connections = connections;
    }

    Optional<Read> read(YamlMap field) {
        field.refuseOthers(List.of("id", "hall", "nameplate", "connection", "name-at-source", "map"));
        Optional<UnitId> id = field.requiredText("id").flatMap(text -> id(field, text));
        Optional<String> hall = field.requiredText("hall");
        Optional<Nameplate> nameplate = field.requiredText("nameplate")
                .flatMap(name -> nameplate(field, name))
                .map(NameplateFile::nameplate);
        Optional<PointMapFile> map = field.requiredText("map").flatMap(name -> map(field, name));
        Optional<ConnectionFields.Line> line =
                field.requiredText("connection").flatMap(name -> connection(field, name));
        Optional<String> nameAtSource = field.requiredText("name-at-source");
        boolean fits = map.isPresent() && line.isPresent() && fits(field, nameplate, map.get(), line.get());
        boolean free = nameAtSource.isPresent() && line.isPresent() && free(field, line.get(), nameAtSource.get());
        boolean distinct = nameAtSource.isPresent()
                && map.isPresent()
                && distinct(field, map.get().map(), nameAtSource.get());
        if (id.isEmpty() || hall.isEmpty() || nameplate.isEmpty()) {
            return Optional.empty();
        }
        Optional<ServedUnit> served = fits && free && distinct
                ? Optional.of(
                        new ServedUnit(id.get(), nameAtSource.get(), map.get().map()))
                : Optional.empty();
        String connection = line.map(ConnectionFields.Line::name).orElse("");
        return Optional.of(new Read(new Unit(id.get(), site, hall.get(), nameplate.get()), connection, served));
    }

    private Optional<UnitId> id(YamlMap field, String text) {
        try {
            UnitId id = new UnitId(text);
            Integer line = lines.putIfAbsent(id, field.line());
            if (line == null) {
                return Optional.of(id);
            }
            field.fault("id", "'" + id + "' is already the unit of line " + line);
        } catch (IllegalArgumentException misshapen) {
            field.fault("id", misshapen.getMessage());
        }
        return Optional.empty();
    }

    private Optional<NameplateFile> nameplate(YamlMap field, String name) {
        Optional<NameplateFile> found = nameplates.get(name);
        if (found.isEmpty()) {
            field.fault("nameplate", nameplates.missing("nameplate", name) + "; the unit is left out");
        }
        return found;
    }

    private Optional<PointMapFile> map(YamlMap field, String name) {
        Optional<PointMapFile> found = maps.get(name);
        if (found.isEmpty()) {
            field.fault("map", maps.missing("point map", name) + "; the unit is not read");
        }
        return found;
    }

    private Optional<ConnectionFields.Line> connection(YamlMap field, String name) {
        Optional<ConnectionFields.Line> found = connections.get(name);
        if (found.isEmpty()) {
            field.fault("connection", connections.missing(name) + "; the unit is not read");
        }
        return found;
    }

    private static boolean fits(
            YamlMap field, Optional<Nameplate> nameplate, PointMapFile map, ConnectionFields.Line line) {
        boolean protocol = map.map().protocol().equals(line.protocol());
        if (!protocol) {
            field.fault(
                    "map",
                    "'" + map.map().name() + "' is for " + map.map().protocol() + ", connection '" + line.name()
                            + "' speaks " + line.protocol());
        }
        boolean supplier = nameplate.isEmpty() || nameplate.get().supplier().equals(map.supplier());
        if (!supplier) {
            field.fault(
                    "map",
                    "'" + map.map().name() + "' is for supplier " + map.supplier() + ", the nameplate is from "
                            + nameplate.get().supplier());
        }
        return protocol && supplier;
    }

    private boolean free(YamlMap field, ConnectionFields.Line line, String nameAtSource) {
        Integer before = namesAtSource.putIfAbsent(line.name() + '\n' + nameAtSource, field.line());
        if (before != null) {
            field.fault(
                    "name-at-source",
                    "'" + nameAtSource + "' on connection '" + line.name() + "' is already the unit of line " + before);
        }
        return before == null;
    }

    /** With the unit's name put in, two different sources of a map can become one. */
    private static boolean distinct(YamlMap field, PointMap map, String nameAtSource) {
        Set<String> sources = new HashSet<>();
        for (PointMap.Entry entry : map.entries()) {
            if (!sources.add(entry.sourceFor(nameAtSource))) {
                field.fault(
                        "name-at-source",
                        "'" + nameAtSource + "' makes two points of map '" + map.name() + "' read the same tag, '"
                                + entry.sourceFor(nameAtSource) + "'");
                return false;
            }
        }
        return true;
    }
}
