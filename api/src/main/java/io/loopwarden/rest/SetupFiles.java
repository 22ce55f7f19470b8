package io.loopwarden.rest;

import io.loopwarden.fleetfile.NameplateFile;
import io.loopwarden.pointmap.PointMapFile;
import io.loopwarden.yaml.Loaded;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Stream;

/** The nameplates and maps of the fleet folder that are without fault, used or not. */
final class SetupFiles {

    private final Path folder;

    SetupFiles(Path folder) {
        this.folder = folder;
    }

    List<NameplateFile> nameplates() {
        return read(
                "nameplates",
                path -> NameplateFile.load(path, path.getFileName().toString()));
    }

    List<PointMapFile> maps() {
        return read("maps", path -> PointMapFile.load(path, path.getFileName().toString()));
    }

    NameplateFile nameplate(String name) {
        return nameplates().stream()
                .filter(file -> file.name().equals(name))
                .findFirst()
                .orElseThrow(() -> Problem.badRequest("no nameplate '" + name + "' in the fleet folder"));
    }

    PointMapFile map(String name) {
        return maps().stream()
                .filter(file -> file.map().name().equals(name))
                .findFirst()
                .orElseThrow(() -> Problem.badRequest("no point map '" + name + "' in the fleet folder"));
    }

    private <T> List<T> read(String subFolder, Function<Path, Loaded<T>> reader) {
        try (Stream<Path> files = Files.list(folder.resolve(subFolder))) {
            return files.filter(path -> path.toString().endsWith(".yaml"))
                    .sorted()
                    .map(reader)
                    .flatMap(loaded -> loaded.value().stream())
                    .toList();
        } catch (IOException e) {
            throw Problem.badRequest("the folder " + subFolder + " of the fleet folder cannot be read");
        }
    }
}
