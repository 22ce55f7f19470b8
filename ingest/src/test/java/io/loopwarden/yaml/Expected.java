package io.loopwarden.yaml;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** Rejected example files, each with the faults it must give as comments {@code # expect: LINE FIELD: beginning of the message}. */
public final class Expected {

    private static final Path REJECTED = Path.of("src/test/resources/rejected");
    private static final String MARK = "# expect: ";

    private Expected() {}

    /** The example files of one folder. */
    public static Stream<Path> files(String folder) {
        try (Stream<Path> files = Files.list(REJECTED.resolve(folder))) {
            return files.sorted().toList().stream();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Holds if the faults are those the file says, no more and no fewer. */
    public static void check(Path file, Loaded<?> loaded) throws IOException {
        List<String> expected = Stream.of(
                        Files.readString(file, StandardCharsets.ISO_8859_1).split("\n"))
                .filter(line -> line.startsWith(MARK))
                .map(line -> line.substring(MARK.length()).strip())
                .toList();
        List<String> found = loaded.faults().stream()
                .map(fault -> fault.line() + " " + fault.field() + ": " + fault.message())
                .toList();
        assertThat(loaded.value()).isEmpty();
        assertThat(expected).as("expectations of " + file).isNotEmpty();
        assertThat(found).as("faults of " + file).hasSameSizeAs(expected);
        assertThat(expected).allSatisfy(start -> assertThat(found).anyMatch(fault -> fault.startsWith(start)));
    }
}
