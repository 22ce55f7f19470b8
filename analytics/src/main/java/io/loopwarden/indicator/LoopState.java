package io.loopwarden.indicator;

import io.loopwarden.fleet.PointName;
import io.loopwarden.hydraulics.LoopHistory;
import io.loopwarden.hydraulics.LoopReading;
import io.loopwarden.hydraulics.PumpHistory;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/** Filters, pumps, racks and valve of one unit: what is remembered, held against the last two minutes. For one evaluation. */
final class LoopState {

    private final LoopKnown known;
    private final LoopReading reading;
    private final double noisePa;
    private Optional<List<Estimate>> loadings;

    private LoopState(LoopKnown known, LoopReading reading, double noisePa) {
        this.known = known;
        this.reading = reading;
        this.noisePa = noisePa;
    }

    static LoopState of(LoopKnown known, Hydraulics hydraulics, ToDoubleFunction<PointName> scatter) {
        return new LoopState(known, LoopReadings.of(hydraulics, scatter), HydraulicPriors.FILTER_NOISE_PA);
    }

    LoopReading reading() {
        return reading;
    }

    LoopHistory history() {
        return known.history();
    }

    LoopKnown known() {
        return known;
    }

    /** Loading of each filter over clean. */
    Optional<List<Estimate>> loadings() {
        if (loadings == null) {
            loadings = reading.tcs()
                    .flatMap(flow ->
                            known.history().filters().loading(reading.filterPa(), flow, known.logFittings(), noisePa));
        }
        return loadings;
    }

    Computed<Estimate> mostLoaded() {
        return loadings().map(all -> Computed.of(all.get(mostLoaded(all)))).orElseGet(this::notYet);
    }

    String mostLoadedWords() {
        return loadings().map(all -> "filter " + (mostLoaded(all) + 1)).orElse("");
    }

    private static int mostLoaded(List<Estimate> all) {
        int worst = 0;
        for (int i = 1; i < all.size(); i++) {
            worst = all.get(i).value() > all.get(worst).value() ? i : worst;
        }
        return worst;
    }

    private Computed<Estimate> notYet() {
        return known.history().filters().learnt()
                ? Computed.unavailable(
                        Reason.INPUT_MISSING, "Differential pressures of all filters and a TCS flow are needed.")
                : Computed.unavailable(
                        Reason.BASELINE_MISSING,
                        "The clean filters are being learnt, over four days from commissioning or a change on.");
    }

    /** Least days of all filters, and which. */
    Optional<Integer> nextDue() {
        int next = -1;
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < known.filterDays().size(); i++) {
            double days = known.filterDays().get(i).fold(Estimate::value, gap -> Double.POSITIVE_INFINITY);
            if (days < least) {
                least = days;
                next = i;
            }
        }
        return next < 0 ? Optional.empty() : Optional.of(next);
    }

    Computed<Estimate> daysToChange() {
        if (known.filterDays().isEmpty()) {
            return Computed.unavailable(Reason.NAMEPLATE_INCOMPLETE, "The nameplate has no filters.");
        }
        return nextDue()
                .map(i -> known.filterDays().get(i))
                .orElseGet(() -> known.filterDays().get(0));
    }

    Computed<Estimate> strainerLoading() {
        return known.history()
                .strainerLoading(reading)
                .map(Computed::of)
                .orElseGet(() -> Computed.unavailable(
                        Reason.BASELINE_MISSING,
                        "The clean strainer is being learnt, or its differential pressure or flow is not there."));
    }

    /** The pump that lost most of its head. */
    Optional<Integer> mostWorn() {
        int worst = 0;
        double most = Double.NEGATIVE_INFINITY;
        List<PumpHistory> pumps = known.history().pumps();
        for (int n = 1; n <= pumps.size(); n++) {
            double lost = pumps.get(n - 1).lostHead().map(Estimate::value).orElse(Double.NEGATIVE_INFINITY);
            if (lost > most) {
                most = lost;
                worst = n;
            }
        }
        return worst == 0 ? Optional.empty() : Optional.of(worst);
    }

    Computed<Estimate> lostHead() {
        return mostWorn()
                .flatMap(n -> known.history().pumps().get(n - 1).lostHead())
                .map(Computed::of)
                .orElseGet(LoopState::noPump);
    }

    Computed<Estimate> efficiencyShift() {
        return mostWorn()
                .flatMap(n -> known.history().pumps().get(n - 1).efficiencyShift())
                .map(Computed::of)
                .orElseGet(LoopState::noPump);
    }

    private static Computed<Estimate> noPump() {
        return Computed.unavailable(
                Reason.BASELINE_MISSING,
                "No pump has run alone for a day since it was commissioned, with its differential pressure measured.");
    }

    String mostWornWords() {
        return mostWorn().map(n -> "pump " + n).orElse("");
    }

    Computed<Estimate> rackChange() {
        return known.history()
                .racks()
                .changed()
                .map(Computed::of)
                .orElseGet(() -> Computed.unavailable(
                        Reason.BASELINE_MISSING,
                        "How the racks resist at each load is being learnt, over five days from the start on."));
    }

    Computed<Estimate> valveAuthority() {
        return known.history()
                .valve()
                .authority()
                .map(Computed::of)
                .orElseGet(
                        () -> Computed.unavailable(
                                Reason.NOT_OBSERVABLE,
                                "The facility valve has hardly moved, or its position, flow or differential pressure is not there."));
    }
}
