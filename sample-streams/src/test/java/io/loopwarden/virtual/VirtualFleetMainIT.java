package io.loopwarden.virtual;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The virtual fleet as a process: it says when it is ready and leaves nothing running. */
class VirtualFleetMainIT {

    @TempDir
    Path out;

    private Process process;

    @AfterEach
    void end() {
        if (process != null) {
            process.destroyForcibly();
        }
    }

    @Test
    void endsWhenItsStandardInputEnds() throws Exception {
        start("--watch-stdin");
        assertThat(untilReady()).anyMatch(line -> line.startsWith("east-modbus modbus://127.0.0.1:"));
        process.getOutputStream().close();
        assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue()).isZero();
    }

    @Test
    void endsOnTermAfterClosingItsServers() throws Exception {
        start("--control-port", "0");
        assertThat(untilReady()).anyMatch(line -> line.startsWith("control http://127.0.0.1:"));
        assertThat(out.resolve("fleet/fleet.yaml")).isRegularFile();
        process.destroy();
        assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
    }

    @Test
    void tellsWhatIsWrongWithItsOptions() throws Exception {
        start("--spede", "2");
        assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue()).isEqualTo(2);
        assertThat(process.inputReader(StandardCharsets.UTF_8).lines())
                .anyMatch(line -> line.contains("'--spede' is not understood"));
    }

    private void start(String... more) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                VirtualFleetMain.class.getName(),
                "--scenario",
                Units.SCENARIO.toString(),
                "--out",
                out.toString()));
        command.addAll(List.of(more));
        process = new ProcessBuilder(command).redirectErrorStream(true).start();
    }

    private List<String> untilReady() throws IOException {
        BufferedReader reader = process.inputReader(StandardCharsets.UTF_8);
        List<String> lines = new ArrayList<>();
        for (String line = reader.readLine(); line != null; line = reader.readLine()) {
            lines.add(line);
            if (line.startsWith("virtual fleet ready")) {
                return lines;
            }
        }
        throw new AssertionError("it ended before it was ready: " + lines);
    }
}
