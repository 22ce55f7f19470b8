package io.loopwarden.bench;

import io.loopwarden.virtual.serve.Broker;
import java.nio.file.Path;
import org.eclipse.paho.client.mqttv3.MqttException;

/** Broker, sender and service of a fleet that sends every value at a fixed rate. */
final class LiveRig implements AutoCloseable {

    private final Folder folder;
    private final Broker broker;
    final BenchService service;
    final Sender sender;

    LiveRig(Path root, int units, double hertz) throws Exception {
        folder = Folder.make();
        broker = Broker.start(folder.path().resolve("broker"), 0);
        Path fleet = folder.path().resolve("fleet");
        FleetFiles.write(root, fleet, units, broker.address());
        service = BenchService.launch(root, fleet, folder.path().resolve("data"));
        service.awaitAnswer("/q/health/live");
        sender = new Sender(broker.address(), new PlayedUnit(root, 300), units, hertz);
        service.awaitAnswer("/q/health/ready");
    }

    @Override
    public void close() throws MqttException {
        sender.close();
        service.close();
        broker.close();
        folder.close();
    }
}
