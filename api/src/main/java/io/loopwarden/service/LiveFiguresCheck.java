package io.loopwarden.service;

import io.loopwarden.fleetstate.UnitNow;
import jakarta.enterprise.context.ApplicationScoped;
import org.eclipse.microprofile.health.HealthCheck;
import org.eclipse.microprofile.health.HealthCheckResponse;
import org.eclipse.microprofile.health.Readiness;

/** Ready when every unit that has a connection shows a live approach, and the store takes samples. */
@Readiness
@ApplicationScoped
class LiveFiguresCheck implements HealthCheck {

    private final LoopwardenService service;

    LiveFiguresCheck(LoopwardenService service) {
        this.service = service;
    }

    @Override
    public HealthCheckResponse call() {
        long expected = service.fleet().units().stream()
                .filter(now -> service.connectionOf(now.unit().id()).isPresent())
                .count();
        long live = service.fleet().units().stream()
                .filter(LiveFiguresCheck::isLive)
                .count();
        return HealthCheckResponse.named("live figures")
                .status(live >= expected && service.logStatus().lastError().isEmpty())
                .withData("unitsExpected", expected)
                .withData("unitsLive", live)
                .build();
    }

    private static boolean isLive(UnitNow now) {
        return now.figures()
                .result("approach")
                .map(result -> result.value().isAvailable())
                .orElse(false);
    }
}
