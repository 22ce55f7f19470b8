package io.loopwarden.mqtt;

import io.loopwarden.collector.CollectorContract;
import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/** The common contract over MQTT 3.1.1. */
class Mqtt311CollectorIT extends CollectorContract {

    @TempDir
    Path folder;

    @Override
    protected Rig newRig() throws Exception {
        return new JsonRig(folder, "3.1.1");
    }
}
