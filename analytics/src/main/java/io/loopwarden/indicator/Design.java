package io.loopwarden.indicator;

import io.loopwarden.exchanger.Exchanger;
import io.loopwarden.exchanger.Stream;
import io.loopwarden.exchanger.Stream.Meter;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed;
import java.util.Objects;

/** What was promised of a unit, with the coolants that fill it and the limits to judge by. Shared by all evaluations of the unit. */
public final class Design {

    private final Nameplate nameplate;
    private final IndicatorSettings settings;
    private final Coolant tcsCoolant;
    private final Coolant fwsCoolant;
    private final Computed<PromisedExchanger> promised;

    public Design(Nameplate nameplate, IndicatorSettings settings) {
        this.nameplate = Objects.requireNonNull(nameplate, "nameplate");
        this.settings = Objects.requireNonNull(settings, "settings");
        this.tcsCoolant = Coolant.of(nameplate.tcsCoolant());
        this.fwsCoolant = Coolant.of(nameplate.fwsCoolant());
        this.promised = PromisedExchanger.of(nameplate, tcsCoolant, fwsCoolant);
    }

    public Nameplate nameplate() {
        return nameplate;
    }

    public IndicatorSettings settings() {
        return settings;
    }

    /** The exchangers between both coolants; both flow meters are taken to sit in the supply. */
    public Exchanger exchanger() {
        return new Exchanger(new Stream(tcsCoolant, Meter.AT_OUTLET), new Stream(fwsCoolant, Meter.AT_INLET));
    }

    Coolant tcsCoolant() {
        return tcsCoolant;
    }

    Coolant fwsCoolant() {
        return fwsCoolant;
    }

    Computed<PromisedExchanger> promised() {
        return promised;
    }
}
