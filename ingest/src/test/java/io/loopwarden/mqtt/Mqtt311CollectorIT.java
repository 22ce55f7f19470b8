package io.loopwarden.mqtt;

import io.loopwarden.collector.CollectorContract;
import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;

/** The common contract over MQTT 3.1.1. */
class Mqtt311CollectorIT extends CollectorContract {

    @TempDir
    static Path folder;

    private static TestBroker broker;

    @BeforeAll
    static void prepare() throws IOException {
        broker = TestBroker.in(folder);
    }

    @AfterAll
    static void stop() throws Exception {
        broker.stop();
    }

    @Override
    protected Rig newRig() {
        return new JsonRig(broker, "3.1.1");
    }
}
