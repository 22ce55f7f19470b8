package io.loopwarden.watch;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.hydraulics.FilterBankHistory;
import io.loopwarden.hydraulics.FilterHistory;
import io.loopwarden.hydraulics.LoopHistory;
import io.loopwarden.hydraulics.LoopReading;
import io.loopwarden.indicator.LoopKnown;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.LimitDate;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** Keeps the histories of a unit's loops, and the dates that follow from them, which are worked out anew once a day. */
final class LoopWatch {

    private static final double SECONDS_PER_DAY = 86_400;

    private final Nameplate nameplate;
    private LoopHistory history;
    private LoopKnown known;
    private FilterBankHistory fittingsOf;
    private Estimate fittings;
    private long datesOfDay = Long.MIN_VALUE;
    private List<Computed<Estimate>> filterDays = List.of();
    private Computed<Estimate> strainerDays;

    LoopWatch(Nameplate nameplate) {
        this.nameplate = nameplate;
        set(LoopHistory.begin(nameplate), 0);
    }

    LoopHistory history() {
        return history;
    }

    LoopKnown known() {
        return known;
    }

    void restore(LoopHistory remembered) {
        boolean fits = remembered.filters().filters().size() == nameplate.filters()
                && remembered.pumps().size() == nameplate.pumps();
        if (fits) {
            datesOfDay = Long.MIN_VALUE;
            set(remembered, remembered.atEpochS());
        }
    }

    boolean isDue(Instant at) {
        return history.isDue(at.getEpochSecond());
    }

    void accept(LoopReading reading) {
        set(history.after(reading, nameplate), reading.epochS());
    }

    void running(Instant at, List<Integer> numbers) {
        LoopHistory next = history.withRunning(at.getEpochSecond(), numbers);
        if (next != history) {
            set(next, history.atEpochS());
        }
    }

    void maintained(MaintenanceLog log, Instant at) {
        set(
                history.maintained(new LoopHistory.Maintained(
                        part -> latest(
                                Stream.of(
                                        MaintenanceKind.FILTER_CHANGE,
                                        MaintenanceKind.PART_REPLACED,
                                        MaintenanceKind.CLEANING),
                                log,
                                part,
                                at),
                        part -> latest(Stream.of(MaintenanceKind.CONFIRMATION), log, part, at))),
                history.atEpochS());
    }

    private static Optional<Double> latest(Stream<MaintenanceKind> kinds, MaintenanceLog log, String part, Instant at) {
        return kinds.flatMap(kind -> log.last(kind, part, at).stream())
                .map(until -> (double) until.getEpochSecond())
                .max(Double::compare);
    }

    private void set(LoopHistory next, double epochS) {
        boolean same = history != null && next.filters() == history.filters();
        history = next;
        if (!same
                && (fittingsOf == null
                        || !fittingsOf.stepEvidence().equals(next.filters().stepEvidence())
                        || !fittingsOf.before().equals(next.filters().before())
                        || fittingsOf.learnt() != next.filters().learnt())) {
            fittingsOf = next.filters();
            fittings = next.filters().logFittings();
        }
        long day = (long) Math.floor(epochS / SECONDS_PER_DAY);
        if (day != datesOfDay) {
            datesOfDay = day;
            filterDays = filterDays(epochS);
            strainerDays = strainerDays(epochS);
        }
        known = new LoopKnown(history, fittings, filterDays, strainerDays);
    }

    private List<Computed<Estimate>> filterDays(double epochS) {
        List<Computed<Estimate>> days = new ArrayList<>();
        for (int i = 0; i < nameplate.filters(); i++) {
            Optional<Estimate> due = history.filters()
                    .dueRatio(
                            i,
                            nameplate.filterTerminalDpPa(),
                            nameplate.sensors().flowStandardUncertaintyRatio());
            FilterHistory filter = history.filters().filters().get(i);
            days.add(due.map(d -> date(filter, d, epochS)).orElseGet(LoopWatch::learning));
        }
        return days;
    }

    private static Computed<Estimate> learning() {
        return Computed.unavailable(
                Reason.BASELINE_MISSING, "The clean element is being learnt, from commissioning or a change on.");
    }

    private static Computed<Estimate> date(FilterHistory filter, Estimate due, double epochS) {
        return LimitDate.of(
                        filter.shown().whole(filter.trendFromS(), epochS),
                        due.value(),
                        due.standardUncertainty(),
                        epochS)
                .map(LimitDate::days);
    }

    private Computed<Estimate> strainerDays(double epochS) {
        if (nameplate.limits().strainerTerminalDpPa().isEmpty()) {
            return Computed.unavailable(
                    Reason.NAMEPLATE_INCOMPLETE,
                    "The nameplate gives no differential pressure at which the strainer is due"
                            + " (limits: strainer-terminal-dp).");
        }
        FilterHistory strainer = history.strainer();
        if (!strainer.learnt()) {
            return learning();
        }
        double clean = strainer.cleanAtReferencePa();
        double due = nameplate.limits().strainerTerminalDpPa().getAsDouble() / clean;
        return date(strainer, new Estimate(due, 0.02 * due), epochS);
    }
}
