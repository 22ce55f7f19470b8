package io.loopwarden.watch;

import io.loopwarden.exchanger.FoulingHistory;
import io.loopwarden.exchanger.FoulingSettings;
import io.loopwarden.exchanger.FoulingTrend;
import io.loopwarden.exchanger.SteadyState;
import io.loopwarden.indicator.Design;
import io.loopwarden.indicator.FoulingRecord;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Crossing;
import io.loopwarden.statistics.Estimate;
import java.util.OptionalDouble;

/** Keeps a unit's fouling history, and its forecast, which is worked out anew only when a day is added. */
final class FoulingWatch {

    /** Half the width of an 80 % interval over its standard deviation, under a normal distribution. */
    private static final double K80 = 1.2815515655446004;

    private final Design design;
    private final FoulingSettings settings;
    private Computed<FoulingHistory> history;
    private Computed<FoulingRecord> record;
    private long forecastOfDay = Long.MIN_VALUE;
    private Computed<Estimate> daysToLimit;

    FoulingWatch(Design design, FoulingSettings settings) {
        this.design = design;
        this.settings = settings;
        set(FoulingHistory.begin(design.nameplate(), design.exchanger(), settings));
    }

    Computed<FoulingHistory> history() {
        return history;
    }

    Computed<FoulingRecord> record() {
        return record;
    }

    void restore(FoulingHistory remembered) {
        forecastOfDay = Long.MIN_VALUE;
        set(Computed.of(remembered.with(settings)));
    }

    /** Takes a window; true if it changed what is remembered. */
    boolean accept(SteadyState window) {
        Computed<FoulingHistory> after = history.map(h -> h.after(window));
        boolean changed = !after.equals(history);
        if (changed) {
            set(after);
        }
        return changed;
    }

    private void set(Computed<FoulingHistory> now) {
        history = now;
        record = now.map(h -> new FoulingRecord(h, daysToLimit(h)));
    }

    private Computed<Estimate> daysToLimit(FoulingHistory h) {
        if (h.days().isEmpty()) {
            return Computed.unavailable(
                    Reason.BASELINE_MISSING, h.stillLearning().orElse("No whole day has been measured yet."));
        }
        long newest = h.days().get(h.days().size() - 1).epochDay();
        if (newest != forecastOfDay) {
            forecastOfDay = newest;
            daysToLimit = FoulingTrend.forecast(h, design.nameplate()).flatMap(FoulingWatch::estimate);
        }
        return daysToLimit;
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
