package io.loopwarden.system;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.awaitility.Awaitility;

/** A Java process started by a test, its output in a file. */
public final class Launched implements AutoCloseable {

    private final String name;
    private final Process process;
    private final Path output;

    private Launched(String name, Process process, Path output) {
        this.name = name;
        this.process = process;
        this.output = output;
    }

    static Launched java(String name, Path folder, List<String> arguments) {
        Path output = folder.resolve(name + ".log");
        try {
            Files.createDirectories(folder);
            List<String> command = new ArrayList<>();
            command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
            command.addAll(arguments);
            Process process = new ProcessBuilder(command)
                    .redirectErrorStream(true)
                    .redirectOutput(ProcessBuilder.Redirect.appendTo(output.toFile()))
                    .start();
            Runtime.getRuntime().addShutdownHook(new Thread(process::destroyForcibly));
            return new Launched(name, process, output);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Waits until the output has a line that matches, and answers the match. */
    Matcher awaitLine(String regex, Duration atMost) {
        Pattern pattern = Pattern.compile(regex, Pattern.MULTILINE);
        return Awaitility.await(name + " prints " + regex)
                .atMost(atMost)
                .pollInterval(Duration.ofMillis(50))
                .failFast(this::requireAlive)
                .until(() -> pattern.matcher(output()), Matcher::find);
    }

    /** @throws IllegalStateException with the output if the process has ended */
    void requireAlive() {
        if (!process.isAlive()) {
            throw new IllegalStateException(name + " ended: " + output());
        }
    }

    String output() {
        try {
            return Files.exists(output) ? Files.readString(output) : "";
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    long pid() {
        return process.pid();
    }

    /** As kill -9 does: no chance to tidy up. */
    public void kill() {
        process.destroyForcibly();
        awaitEnd();
    }

    @Override
    public void close() {
        process.destroy();
        awaitEnd();
    }

    private void awaitEnd() {
        try {
            if (!process.waitFor(30, TimeUnit.SECONDS)) {
                process.destroyForcibly();
                throw new IllegalStateException(name + " did not end within 30 s: " + output());
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
