package io.loopwarden.pages;

import com.fasterxml.jackson.databind.JsonNode;
import io.loopwarden.system.Account;
import io.loopwarden.system.Broker;
import io.loopwarden.system.Service;
import io.loopwarden.system.VirtualFleet;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.awaitility.Awaitility;

/** The service itself with the virtual fleet behind it, each a process of its own. */
final class RealFleet implements ServiceUnderTest {

    private final Broker broker;
    private final VirtualFleet fleet;
    private final Service service;
    private final Account account;

    RealFleet() {
        try {
            Path folder = Files.createTempDirectory("loopwarden-pages");
            broker = Broker.start(folder.resolve("broker"));
            fleet = VirtualFleet.start(folder.resolve("fleet"), broker);
            service = new Service(fleet.fleetFolder(), folder.resolve("service"));
            comeBack();
            // The first start names the token; a later one would name another.
            account = service.administrator();
            Awaitility.await("a unit with a reserve")
                    .atMost(Duration.ofMinutes(3))
                    .pollInterval(Duration.ofSeconds(1))
                    .until(this::anyUnitIsJudged);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Of any function: whether heat transfer can be judged depends on the time of day, since loads ramp. */
    private boolean anyUnitIsJudged() {
        for (JsonNode unit : service.get("/api/v1/fleet").get("units")) {
            for (JsonNode function : unit.get("functions")) {
                JsonNode reserve = function.path("reserve");
                if (reserve.path("key").asText().endsWith("-reserve")
                        && reserve.path("value").isNumber()) {
                    return true;
                }
            }
        }
        return false;
    }

    @Override
    public String cookie() {
        return account.cookie();
    }

    @Override
    public URI address() {
        return service.address("/");
    }

    @Override
    public void goAway() {
        service.kill();
    }

    @Override
    public void comeBack() {
        service.start();
        Awaitility.await("live figures of every unit")
                .atMost(Duration.ofSeconds(60))
                .pollInterval(Duration.ofMillis(200))
                .until(() -> service.statusOf("/q/health/ready") == 200);
    }

    @Override
    public void close() {
        service.close();
        fleet.close();
        broker.close();
    }
}
