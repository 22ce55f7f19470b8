package io.loopwarden.store;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.sql.DataSource;
import org.postgresql.ds.PGSimpleDataSource;

/** A real TimescaleDB for tests: compiled to WebAssembly, run by Node, reached over a bridge in {@code src/test/node}. */
final class TimescaleServer implements AutoCloseable {

    /** The module is built for this version of Node. */
    private static final int LEAST_NODE = 20;

    private static final List<String> FILES = List.of("package.json", "package-lock.json", "timescale-bridge.mjs");

    private final Process process;
    private final int port;

    private TimescaleServer(Process process, int port) {
        this.process = process;
        this.port = port;
    }

    /** Why it cannot run here; empty if it can. */
    static Optional<String> missing() {
        for (String program : List.of("node", "npm")) {
            boolean found = Arrays.stream(System.getenv("PATH").split(":"))
                    .anyMatch(folder -> Files.isExecutable(Path.of(folder, program)));
            if (!found) {
                return Optional.of(program + " is not on the PATH: tests on TimescaleDB are skipped");
            }
        }
        String version = nodeVersion();
        Matcher major = Pattern.compile("v(\\d+)\\.").matcher(version);
        if (!major.find() || Integer.parseInt(major.group(1)) < LEAST_NODE) {
            return Optional.of("node is '" + version + "', " + LEAST_NODE
                    + " or later is needed: tests on TimescaleDB are skipped");
        }
        return Optional.empty();
    }

    private static String nodeVersion() {
        try {
            Process node = new ProcessBuilder("node", "--version").start();
            return new String(node.getInputStream().readAllBytes(), StandardCharsets.UTF_8).strip();
        } catch (IOException e) {
            return "not runnable: " + e.getMessage();
        }
    }

    static TimescaleServer start() throws IOException, InterruptedException {
        Path folder = Files.createDirectories(Path.of("target", "timescale"));
        for (String file : FILES) {
            Files.copy(Path.of("src", "test", "node", file), folder.resolve(file), StandardCopyOption.REPLACE_EXISTING);
        }
        if (!Files.exists(folder.resolve("node_modules"))) {
            install(folder);
        }
        Process process = new ProcessBuilder("node", "timescale-bridge.mjs")
                .directory(folder.toFile())
                .redirectError(folder.resolve("bridge.log").toFile())
                .start();
        BufferedReader out =
                new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
        String line = out.readLine();
        if (line == null || !line.startsWith("port ")) {
            process.destroyForcibly();
            throw new IOException("the TimescaleDB bridge did not start: " + line);
        }
        return new TimescaleServer(process, Integer.parseInt(line.substring("port ".length())));
    }

    private static void install(Path folder) throws IOException, InterruptedException {
        Path log = folder.resolve("npm.log");
        Process npm = new ProcessBuilder("npm", "ci", "--no-audit", "--no-fund", "--ignore-scripts")
                .directory(folder.toFile())
                // Not to our own output: the test runner speaks through it.
                .redirectErrorStream(true)
                .redirectOutput(log.toFile())
                .start();
        if (!npm.waitFor(5, TimeUnit.MINUTES) || npm.exitValue() != 0) {
            npm.destroyForcibly();
            throw new IOException("npm ci failed in " + folder + ": " + Files.readString(log));
        }
    }

    DataSource dataSource() {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setServerNames(new String[] {"127.0.0.1"});
        source.setPortNumbers(new int[] {port});
        source.setDatabaseName("postgres");
        source.setUser("postgres");
        source.setSslMode("disable");
        source.setPrepareThreshold(0);
        source.setReWriteBatchedInserts(true);
        return source;
    }

    /** The bridge ends when its input does. */
    @Override
    public void close() throws IOException {
        process.getOutputStream().close();
        try {
            if (!process.waitFor(10, TimeUnit.SECONDS)) {
                process.destroyForcibly();
            }
        } catch (InterruptedException e) {
            process.destroyForcibly();
            Thread.currentThread().interrupt();
        }
    }
}
