package io.loopwarden.virtual;

import io.loopwarden.virtual.scenario.Scenario;
import io.loopwarden.virtual.serve.ControlEndpoint;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;

/** The virtual fleet as a process of its own; see the module's README for its options. */
public final class VirtualFleetMain {

    private static final List<String> NAMED =
            List.of("scenario", "out", "broker", "seed", "speed", "control-port", "history-days");
    private static final Set<String> SWITCHES = Set.of("start-worn", "start-clean", "watch-stdin");

    private VirtualFleetMain() {}

    public static void main(String[] words) throws Exception {
        try {
            run(Arguments.parse(words, NAMED, SWITCHES));
        } catch (IllegalArgumentException e) {
            System.err.println("virtual fleet: " + e.getMessage());
            System.exit(2);
        }
        // Pools of the libraries keep non-daemon threads for a while; everything of ours is closed.
        System.exit(0);
    }

    private static void run(Arguments arguments) throws Exception {
        Instant now = Instant.now();
        OptionalLong seed = arguments
                .number("seed")
                .map(value -> OptionalLong.of(value.longValue()))
                .orElse(OptionalLong.empty());
        Scenario scenario = Scenario.load(
                Path.of(arguments.require("scenario")), now, new Scenario.Options(seed, arguments.has("start-clean")));
        LiveFleet fleet = new LiveFleet(
                scenario,
                now,
                arguments.text("broker"),
                arguments.number("speed").orElse(1.0),
                Path.of(arguments.require("out")),
                Duration.ofMinutes(
                        Math.round(1440 * arguments.number("history-days").orElse(0.0))));
        Optional<ControlEndpoint> control =
                arguments.number("control-port").map(port -> new ControlEndpoint(fleet, port.intValue()));
        fleet.start();
        fleet.endpoints().forEach((name, endpoint) -> System.out.println(name + " " + endpoint));
        control.ifPresent(endpoint -> System.out.println("control " + endpoint.address()));
        System.out.println("virtual fleet ready, " + fleet.ids().size() + " units");
        new Lifetime().run(arguments.has("watch-stdin"), () -> {
            control.ifPresent(ControlEndpoint::close);
            fleet.close();
        });
    }
}
