package io.loopwarden.hydraulics;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * What is remembered of a unit's filters, strainer, pumps, racks and valve.
 *
 * @param pumps by number, from 1
 * @param running pumps that ran last
 * @param switchOvers the latest, oldest first
 * @param atEpochS time of the last reading; 0 before the first
 */
public record LoopHistory(
        FilterBankHistory filters,
        FilterHistory strainer,
        List<PumpHistory> pumps,
        RackHistory racks,
        ValveHistory valve,
        List<Integer> running,
        List<SwitchOver> switchOvers,
        double atEpochS) {

    /** A reading every ten minutes says all there is to learn of wear. */
    public static final double READ_EVERY_S = 600;

    private static final int MOST_SWITCH_OVERS = 32;
    private static final Estimate FILTER_VISCOUS_SHARE = new Estimate(0.4, 0.15);
    private static final Estimate STRAINER_VISCOUS_SHARE = new Estimate(0.1, 0.1);
    private static final double NOISE_PA = 60;

    public LoopHistory {
        pumps = List.copyOf(pumps);
        running = List.copyOf(running);
        switchOvers = List.copyOf(switchOvers);
    }

    public static LoopHistory begin(Nameplate n) {
        return new LoopHistory(
                FilterBankHistory.begin(n.filters()),
                FilterHistory.NEW,
                Collections.nCopies(n.pumps(), PumpHistory.NEW),
                RackHistory.NEW,
                ValveHistory.NEW,
                List.of(),
                List.of(),
                0);
    }

    /** Long enough since the last reading for another one. */
    public boolean isDue(double epochS) {
        return epochS - atEpochS >= READ_EVERY_S;
    }

    /** After one reading. */
    public LoopHistory after(LoopReading reading, Nameplate nameplate) {
        double offsetPa = nameplate.sensors().pressureStandardUncertaintyPa();
        List<PumpHistory> nextPumps = new ArrayList<>(pumps);
        reading.pump().filter(p -> p.number() <= pumps.size()).ifPresent(p -> {
            PumpHistory was = pumps.get(p.number() - 1);
            nextPumps.set(p.number() - 1, was.after(p, reading.epochS(), offsetPa));
        });
        return new LoopHistory(
                filters.after(reading, new FilterHistory.Priors(FILTER_VISCOUS_SHARE, offsetPa, NOISE_PA)),
                strained(reading, new FilterHistory.Priors(STRAINER_VISCOUS_SHARE, offsetPa, NOISE_PA)),
                nextPumps,
                racks(reading, nameplate),
                valve(reading),
                running,
                switchOvers,
                reading.epochS());
    }

    private FilterHistory strained(LoopReading reading, FilterHistory.Priors priors) {
        if (reading.fws().isEmpty() || reading.strainerPa().isEmpty()) {
            return strainer;
        }
        double dpPa = reading.strainerPa().get();
        FilterHistory taught =
                strainer.learn(reading.epochS(), dpPa, reading.fws().get(), priors);
        return strainerLoading(taught, reading)
                .map(ratio -> taught.loaded(reading.epochS(), ratio.value(), ratio.value(), false))
                .orElse(taught);
    }

    /** Loading of the strainer over clean; empty while it is learnt. */
    public Optional<Estimate> strainerLoading(LoopReading reading) {
        return strainerLoading(strainer, reading);
    }

    private static Optional<Estimate> strainerLoading(FilterHistory strainer, LoopReading reading) {
        if (!strainer.learnt()
                || reading.fws().isEmpty()
                || reading.strainerPa().isEmpty()) {
            return Optional.empty();
        }
        double clean = strainer.cleanPa(reading.fws().get());
        if (!(clean > 0)) {
            return Optional.empty();
        }
        double ratio = Math.max(0, (reading.strainerPa().get() - strainer.offsetPa()) / clean);
        double known = strainer.cleanUncertaintyPa(reading.fws().get(), ratio);
        return Optional.of(new Estimate(ratio, Math.hypot(known, NOISE_PA) / clean));
    }

    private RackHistory racks(LoopReading reading, Nameplate n) {
        if (reading.rackPa().isEmpty()
                || reading.tcs().isEmpty()
                || reading.loadRatio().isEmpty()) {
            return racks;
        }
        double ratio = reading.rackPa().get()
                / n.availableHeadPa()
                / reading.tcs().get().inertialRatio();
        return racks.after(reading.epochS(), reading.loadRatio().get(), ratio);
    }

    private ValveHistory valve(LoopReading reading) {
        return reading.valve()
                .map(v -> valve.after(reading.epochS(), v.position(), v.resistanceRatio()))
                .orElse(valve);
    }

    /** Which pumps run now, asked at every evaluation; standing still is no change-over. */
    public LoopHistory withRunning(double epochS, List<Integer> now) {
        if (now.isEmpty() || now.equals(running)) {
            return this;
        }
        List<SwitchOver> next = new ArrayList<>(switchOvers);
        if (!running.isEmpty()) {
            next.add(new SwitchOver(epochS, running, now));
        }
        next = next.subList(Math.max(0, next.size() - MOST_SWITCH_OVERS), next.size());
        return new LoopHistory(filters, strainer, pumps, racks, valve, now, next, atEpochS);
    }

    /** When parts were changed or looked at, as written: last change and last confirmation of a part, s of the epoch. */
    public record Maintained(
            Function<String, Optional<Double>> changedS, Function<String, Optional<Double>> confirmedS) {}

    /** With what people wrote; repeating it changes nothing. */
    public LoopHistory maintained(Maintained written) {
        FilterBankHistory bank = filters;
        for (int n = 1; n <= filters.filters().size(); n++) {
            String part = "tcs.filter." + n;
            bank = bank.maintained(
                    n, written.changedS().apply(part), written.confirmedS().apply(part));
        }
        List<PumpHistory> nextPumps = new ArrayList<>();
        for (int n = 1; n <= pumps.size(); n++) {
            nextPumps.add(pumps.get(n - 1).maintained(written.changedS().apply("pump." + n)));
        }
        FilterHistory nextStrainer = strainer.maintained(
                written.changedS().apply("fws.strainer"), written.confirmedS().apply("fws.strainer"));
        return new LoopHistory(bank, nextStrainer, nextPumps, racks, valve, running, switchOvers, atEpochS);
    }
}
