package io.loopwarden.oncall;

import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.store.alarm.OutboxMessage;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** Writes messages to a file, one JSON line each: for trials, and for the demo, which sends nothing anywhere. */
final class FileChannel implements Channel {

    private final String name;
    private final Path file;
    private final ObjectMapper json;

    FileChannel(String name, Path file, ObjectMapper json) {
        this.name = name;
        this.file = file;
        this.json = json;
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public String kind() {
        return "file";
    }

    @Override
    public synchronized void send(OutboxMessage envelope, Message message) throws DeliveryException {
        try {
            Files.createDirectories(file.toAbsolutePath().getParent());
            Files.write(
                    file,
                    (json.writeValueAsString(message) + "\n").getBytes(StandardCharsets.UTF_8),
                    StandardOpenOption.CREATE,
                    StandardOpenOption.APPEND);
        } catch (IOException e) {
            throw DeliveryException.passing("channel " + name + ": " + file + " cannot be written: " + e, e);
        }
    }
}
