package io.loopwarden.watch;

import io.loopwarden.availability.UnitLife;
import io.loopwarden.exchanger.ExchangerMemory;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.hydraulics.LoopHistory;
import io.loopwarden.indicator.PumpRecord;
import io.loopwarden.instruments.DriftHistory;
import io.loopwarden.inventory.LeakMemory;
import java.util.Objects;
import java.util.Optional;

/**
 * What a watch remembers of its unit for longer than samples: small, to be stored and given back after a restart. One component a
 * function.
 *
 * @param fouling empty where the nameplate does not say enough of the exchanger
 */
public record UnitMemory(
        Optional<FoulingHistory> fouling,
        PumpRecord pumps,
        LoopHistory loop,
        LeakMemory containment,
        DriftHistory sensors,
        ExchangerMemory exchanger,
        UnitLife life) {

    public UnitMemory {
        Objects.requireNonNull(fouling, "fouling");
        Objects.requireNonNull(pumps, "pumps");
        Objects.requireNonNull(loop, "loop");
        Objects.requireNonNull(containment, "containment");
        Objects.requireNonNull(sensors, "sensors");
        Objects.requireNonNull(exchanger, "exchanger");
        Objects.requireNonNull(life, "life");
    }
}
