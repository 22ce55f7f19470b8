package io.loopwarden.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.management.ThreadMXBean;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;

/**
 * Feeds a parser its seeded corpus, what was ever found, and then mutated inputs. No input may end in an exception, take more than
 * a second, or allocate more than ten times the input's bound. What fails is kept among the test's resources and tried at every run.
 */
public final class Fuzz {

    /** A parser under test; anything it throws is a fault. */
    public interface Parser {
        void parse(byte[] input) throws Exception;
    }

    private static final int INPUTS = Integer.getInteger("loopwarden.fuzz.inputs", 200);
    private static final long SEED = Long.getLong("loopwarden.fuzz.seed", System.nanoTime());
    private static final long MOST_NS = 1_000_000_000L;
    private static final Path FOUND = Path.of("src/test/resources/fuzz/found");
    private static final ThreadMXBean THREADS = (ThreadMXBean) ManagementFactory.getThreadMXBean();

    private final String name;
    private final Parser parser;
    private final int boundBytes;
    private long longestNs;
    private long mostAllocated;

    private Fuzz(String name, Parser parser, int boundBytes) {
        this.name = name;
        this.parser = parser;
        this.boundBytes = boundBytes;
    }

    /** @param boundBytes longest input the parser accepts */
    public static void run(String name, List<byte[]> corpus, int boundBytes, Parser parser) {
        assertThat(corpus).as("corpus of " + name).isNotEmpty();
        Fuzz fuzz = new Fuzz(name, parser, boundBytes);
        List<byte[]> all = new ArrayList<>(corpus);
        all.addAll(folder(FOUND.resolve(name)));
        all.forEach(fuzz::parse);
        Mutator mutator = new Mutator(all, new Random(SEED), Math.min(boundBytes, 1 << 17));
        long startNs = System.nanoTime();
        for (int n = 0; n < INPUTS; n++) {
            fuzz.parse(mutator.next());
        }
        System.out.printf(
                "fuzz %-10s %,9d inputs  %6.0f s  longest %6.1f ms CPU  most allocated %,11d B of %,d  seed %d%n",
                name,
                INPUTS,
                (System.nanoTime() - startNs) / 1e9,
                fuzz.longestNs / 1e6,
                fuzz.mostAllocated,
                10L * boundBytes,
                SEED);
    }

    private void parse(byte[] input) {
        Cost cost = cost(input);
        if (cost.tooMuch(boundBytes)) {
            cost = cost(input); // The first time, loading a class may have been counted.
        }
        longestNs = Math.max(longestNs, cost.cpuNs());
        mostAllocated = Math.max(mostAllocated, cost.allocatedBytes());
        if (cost.tooMuch(boundBytes)) {
            throw new AssertionError(name + " took " + cost + " on " + keep(input) + ", seed " + SEED);
        }
    }

    private record Cost(long cpuNs, long allocatedBytes) {
        boolean tooMuch(int boundBytes) {
            return cpuNs > MOST_NS || allocatedBytes > 10L * boundBytes;
        }
    }

    private Cost cost(byte[] input) {
        long allocated = THREADS.getCurrentThreadAllocatedBytes();
        long cpuNs = THREADS.getCurrentThreadCpuTime();
        try {
            parser.parse(input);
        } catch (Exception | StackOverflowError | OutOfMemoryError e) {
            throw new AssertionError(name + " fails on " + keep(input) + ", seed " + SEED, e);
        }
        return new Cost(
                THREADS.getCurrentThreadCpuTime() - cpuNs, THREADS.getCurrentThreadAllocatedBytes() - allocated);
    }

    private Path keep(byte[] input) {
        try {
            Path folder = Files.createDirectories(FOUND.resolve(name));
            String hash = HexFormat.of().toHexDigits(java.util.Arrays.hashCode(input));
            return Files.write(folder.resolve(hash), input);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The content of every file under a folder; nothing if it does not exist. */
    public static List<byte[]> folder(Path folder) {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (Stream<Path> files = Files.walk(folder)) {
            List<byte[]> all = new ArrayList<>();
            for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
                all.add(Files.readAllBytes(file));
            }
            return all;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
