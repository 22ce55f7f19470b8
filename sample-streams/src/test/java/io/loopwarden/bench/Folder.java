package io.loopwarden.bench;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** A folder for the time of a benchmark. */
record Folder(Path path) implements AutoCloseable {

    static Folder make() throws IOException {
        return new Folder(Files.createTempDirectory("loopwarden-bench"));
    }

    @Override
    public void close() {
        try (Stream<Path> files = Files.walk(path)) {
            List<Path> deepestFirst = files.sorted(Comparator.reverseOrder()).toList();
            for (Path file : deepestFirst) {
                Files.deleteIfExists(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
