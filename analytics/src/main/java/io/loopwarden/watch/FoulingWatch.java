package io.loopwarden.watch;

import io.loopwarden.exchanger.ExchangerMemory;
import io.loopwarden.exchanger.ExchangerState;
import io.loopwarden.exchanger.FoulingDraw;
import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.exchanger.FoulingSettings;
import io.loopwarden.exchanger.FoulingTrend;
import io.loopwarden.exchanger.FoulingUse;
import io.loopwarden.indicator.Design;
import io.loopwarden.indicator.FoulingRecord;
import io.loopwarden.indicator.HeatWindow;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.MaintenanceLog;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Crossing;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;

/** Keeps a unit's fouling history with what follows from it; the forecast is worked out anew only when a day is added. */
final class FoulingWatch {

    /** Half the width of an 80 % interval over its standard deviation, under a normal distribution. */
    private static final double K80 = 1.2815515655446004;

    private static final int SECONDS_A_DAY = 86_400;

    private final Design design;
    private final FoulingSettings settings;
    private Computed<FoulingHistory> history;
    private ExchangerMemory exchanger = ExchangerMemory.EMPTY;
    private Computed<FoulingRecord> record;
    private Instant at = Instant.EPOCH;
    private long forecastOfDay = Long.MIN_VALUE;
    private List<Long> forecastCleanedOn = List.of();
    private Computed<Crossing> forecast;
    private Computed<Double> growth;

    FoulingWatch(Design design, FoulingSettings settings) {
        this.design = design;
        this.settings = settings;
        set(FoulingHistory.begin(design.nameplate(), design.exchanger(), settings));
    }

    Computed<FoulingHistory> history() {
        return history;
    }

    ExchangerMemory exchanger() {
        return exchanger;
    }

    Computed<FoulingRecord> record() {
        return record;
    }

    void restore(FoulingHistory remembered, ExchangerMemory rememberedExchanger) {
        forecastOfDay = Long.MIN_VALUE;
        exchanger = rememberedExchanger;
        at = remembered.takenUntil();
        set(Computed.of(remembered.with(settings)));
    }

    /** Takes a window into what is remembered. */
    void accept(HeatWindow window) {
        at = window.state().to();
        exchanger = new ExchangerMemory(
                exchanger
                        .sides()
                        .after(
                                at,
                                window.tcsSideDpPa(),
                                window.tcsFlowRatio(),
                                window.fwsSideDpPa(),
                                window.fwsFlowRatio()),
                history.map(h -> drawn(h, window)).fold(draw -> draw, gap -> exchanger.draw()));
        set(history.map(h -> h.after(window.state())));
    }

    private FoulingDraw drawn(FoulingHistory h, HeatWindow window) {
        if (h.learntAt().isEmpty() || window.fwsDpPa().isEmpty()) {
            return exchanger.draw();
        }
        ExchangerState s = window.state().measured();
        return h.fouling(window.state())
                .flatMap(f -> FoulingUse.of(h.model(), s, f))
                .flatMap(use -> h.model()
                        .exchanger()
                        .hotDutyW(
                                s,
                                h.model()
                                        .exchanger()
                                        .uncertainty(s, design.nameplate().sensors()))
                        .map(duty ->
                                exchanger.draw().after(at, use, window.fwsDpPa().get(), duty.value())))
                .fold(draw -> draw, gap -> exchanger.draw());
    }

    /** Cleanings and new exchangers that somebody wrote of are where fouling begins anew. */
    void maintained(MaintenanceLog log, Instant now) {
        List<Long> days = log.entries().stream()
                .filter(FoulingWatch::isOnTheExchanger)
                .filter(e -> !e.until().isAfter(now))
                .map(e -> Math.floorDiv(e.until().getEpochSecond(), (long) SECONDS_A_DAY))
                .distinct()
                .sorted()
                .toList();
        set(history.map(h -> h.cleanedOn(days)));
    }

    private static boolean isOnTheExchanger(MaintenanceEntry e) {
        boolean kind = e.kind() == MaintenanceKind.CLEANING || e.kind() == MaintenanceKind.PART_REPLACED;
        return kind
                && e.part().isPresent()
                && (e.part().get().equals("exchanger") || e.part().get().startsWith("exchanger."));
    }

    private void set(Computed<FoulingHistory> now) {
        history = now;
        record = now.map(this::recordOf);
    }

    private FoulingRecord recordOf(FoulingHistory h) {
        forecast(h);
        Computed<Estimate> level = FoulingTrend.level(h);
        return new FoulingRecord(
                at,
                h,
                forecast,
                forecast.flatMap(FoulingWatch::estimate),
                level,
                FoulingTrend.fouled(h).fold(yes -> yes, gap -> false),
                exchanger.draw().plan(at, level, growth, design.settings().cleaning()),
                exchanger.sides());
    }

    /** Worked out anew only where a day came in or the days count from another cleaning. */
    private void forecast(FoulingHistory h) {
        if (h.days().isEmpty()) {
            String why = h.stillLearning().orElse("No whole day has been measured yet.");
            forecast = Computed.unavailable(Reason.BASELINE_MISSING, why);
            growth = Computed.unavailable(Reason.BASELINE_MISSING, why);
            return;
        }
        long newest = h.days().get(h.days().size() - 1).epochDay();
        if (newest != forecastOfDay || !h.cleanedOn().equals(forecastCleanedOn)) {
            forecastOfDay = newest;
            forecastCleanedOn = h.cleanedOn();
            forecast = FoulingTrend.forecast(h, design.nameplate());
            growth = FoulingTrend.growthKPerWPerDay(h);
        }
    }

    private static Computed<Estimate> estimate(Crossing crossing) {
        OptionalDouble low = crossing.lower80().x();
        OptionalDouble middle = crossing.median().x();
        OptionalDouble high = crossing.upper80().x();
        if (low.isEmpty() || middle.isEmpty() || high.isEmpty()) {
            String from = low.isPresent() ? " before day " + Math.round(low.getAsDouble()) : "";
            return Computed.unavailable(
                    Reason.NOT_OBSERVABLE,
                    "Growth is too slow or too uncertain for a date within " + Math.round(FoulingTrend.HORIZON_DAYS)
                            + " days; with 90 % confidence the limit is not reached" + from + ".");
        }
        return Computed.of(new Estimate(middle.getAsDouble(), (high.getAsDouble() - low.getAsDouble()) / 2 / K80));
    }
}
