package io.loopwarden.virtual;

import io.loopwarden.virtual.serve.Broker;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;

/** An MQTT broker as a process of its own, on loopback: {@code --data DIR [--port N] [--watch-stdin]}. */
public final class BrokerMain {

    private BrokerMain() {}

    public static void main(String[] words) throws Exception {
        try {
            Arguments arguments = Arguments.parse(words, List.of("port", "data"), Set.of("watch-stdin"));
            int port = arguments.number("port").orElse(0.0).intValue();
            Broker broker = Broker.start(Path.of(arguments.require("data")), port);
            System.out.println("broker ready " + broker.address());
            new Lifetime().run(arguments.has("watch-stdin"), broker);
        } catch (IllegalArgumentException e) {
            System.err.println("broker: " + e.getMessage());
            System.exit(2);
        }
        System.exit(0);
    }
}
