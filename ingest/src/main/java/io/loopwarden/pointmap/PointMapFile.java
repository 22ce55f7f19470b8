package io.loopwarden.pointmap;

import io.loopwarden.fleet.PointName;
import io.loopwarden.yaml.Faults;
import io.loopwarden.yaml.Loaded;
import io.loopwarden.yaml.YamlFile;
import io.loopwarden.yaml.YamlMap;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/**
 * A point map as it stands in its file, checked as a whole.
 *
 * @param model the supplier's model or family that the map is for
 */
public record PointMapFile(PointMap map, String supplier, String model) {

    /** The protocols a map can be for. */
    public static final List<String> PROTOCOLS = List.of("opc-ua", "mqtt-json", "mqtt-sparkplug", "modbus-tcp");

    private static final String MODBUS = "modbus-tcp";

    public PointMapFile {
        Objects.requireNonNull(map, "map");
        Objects.requireNonNull(supplier, "supplier");
        Objects.requireNonNull(model, "model");
    }

    /** Reads a file; faults name it as {@code name}. */
    public static Loaded<PointMapFile> load(Path path, String name) {
        Faults faults = new Faults();
        return result(YamlFile.open(path, name, faults).flatMap(top -> read(top, faults)), faults);
    }

    public static Loaded<PointMapFile> load(Path path) {
        return load(path, path.toString());
    }

    /** Reads a map from its text. */
    public static Loaded<PointMapFile> parse(String text, String name) {
        Faults faults = new Faults();
        return result(YamlFile.parse(text, name, faults).flatMap(top -> read(top, faults)), faults);
    }

    private static Loaded<PointMapFile> result(Optional<PointMapFile> file, Faults faults) {
        return faults.count() == 0 ? Loaded.of(file.orElseThrow()) : Loaded.failed(faults.sorted());
    }

    private record Placed(YamlMap field, PointMap.Entry entry) {}

    private static Optional<PointMapFile> read(YamlMap top, Faults faults) {
        Optional<String> name = top.requiredText("map");
        Optional<String> supplier = top.requiredText("supplier");
        Optional<String> model = top.requiredText("model");
        Map<String, String> protocols = new LinkedHashMap<>();
        PROTOCOLS.forEach(known -> protocols.put(known, known));
        Optional<String> protocol = top.requiredChoice("protocol", protocols);
        List<Placed> placed = new ArrayList<>();
        if (top.present("points")) {
            for (YamlMap field : top.maps("points")) {
                PointField.read(field, protocol.filter(MODBUS::equals).isPresent())
                        .ifPresent(entry -> placed.add(new Placed(field, entry)));
            }
            if (placed.isEmpty() && faults.count() == 0) {
                top.fault("points", "has no point");
            }
        }
        top.refuseOthers(List.of("map", "supplier", "model", "protocol", "points"));
        refuseDuplicates(placed);
        refuseOverlaps(placed);
        if (faults.count() > 0) {
            return Optional.empty();
        }
        List<PointMap.Entry> entries = placed.stream().map(Placed::entry).toList();
        return Optional.of(
                new PointMapFile(new PointMap(name.get(), protocol.get(), entries), supplier.get(), model.get()));
    }

    private static void refuseDuplicates(List<Placed> placed) {
        Map<PointName, Integer> points = new HashMap<>();
        Map<String, Integer> sources = new HashMap<>();
        for (Placed one : placed) {
            Integer pointLine =
                    points.putIfAbsent(one.entry().point(), one.field().line());
            if (pointLine != null) {
                one.field().fault("point", one.entry().point() + " is already mapped in line " + pointLine);
            }
            Integer sourceLine =
                    sources.putIfAbsent(one.entry().source(), one.field().line());
            if (sourceLine != null) {
                one.field().fault("source", "'" + one.entry().source() + "' is already mapped in line " + sourceLine);
            }
        }
    }

    /** Two values that share a register cannot both be right. */
    private static void refuseOverlaps(List<Placed> placed) {
        List<Placed> registers = placed.stream()
                .filter(one -> one.entry().register() != null)
                .sorted(Comparator.comparing(
                                (Placed one) -> one.entry().register().table())
                        .thenComparing(one -> one.entry().register().address())
                        .thenComparing(one -> one.field().line()))
                .toList();
        Placed furthest = null;
        for (Placed one : registers) {
            RegisterLayout register = one.entry().register();
            RegisterLayout before = furthest == null ? null : furthest.entry().register();
            boolean sameTable = before != null && before.table() == register.table();
            if (sameTable && register.address() < before.end() && register.address() != before.address()) {
                one.field().fault("source", overlap(one, furthest));
            }
            if (!sameTable || register.end() > before.end()) {
                furthest = one;
            }
        }
    }

    private static String overlap(Placed one, Placed other) {
        RegisterLayout taken = other.entry().register();
        return "'" + one.entry().source() + "' lies within " + other.entry().point() + " of line "
                + other.field().line() + ", which takes " + taken.address() + " to " + (taken.end() - 1);
    }
}
