package io.loopwarden.indicator;

import io.loopwarden.control.ControlState;
import io.loopwarden.fleet.PointName;
import io.loopwarden.hydraulics.FilterEvent;
import io.loopwarden.hydraulics.FilterHistory;
import io.loopwarden.hydraulics.PumpHistory;
import io.loopwarden.instruments.Trust;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/** What histories, loops and sensors add to the signals that today's figures give. */
public final class LoopSignals {

    private static final double SECONDS_PER_DAY = 86_400;

    /** Debris that nobody confirmed is old news after so long; a bypass or a change-out waits for somebody. */
    private static final double DEBRIS_DAYS = 7;

    private LoopSignals() {}

    /** Filtration: steps that nobody dealt with ask for maintenance. */
    public static FunctionSignal filtration(FunctionSignal now, LoopKnown known, double atEpochS) {
        List<String> reasons = new ArrayList<>();
        List<FilterHistory> filters = known.history().filters().filters();
        for (int i = 0; i < filters.size(); i++) {
            String name = "Filter " + (i + 1);
            filters.get(i).event().filter(e -> isOpen(e, atEpochS)).ifPresent(e -> reasons.add(words(name, e)));
        }
        known.history()
                .strainer()
                .event()
                .filter(e -> isOpen(e, atEpochS))
                .ifPresent(e -> reasons.add(words("The strainer", e)));
        return asking(now, reasons);
    }

    private static boolean isOpen(FilterEvent e, double atEpochS) {
        boolean old = e.kind() == FilterEvent.Kind.DEBRIS && atEpochS - e.atEpochS() > DEBRIS_DAYS * SECONDS_PER_DAY;
        return !e.confirmed() && !old;
    }

    private static String words(String name, FilterEvent e) {
        String step = " went from " + Words.fixed(e.from(), 2) + " to " + Words.fixed(e.to(), 2)
                + " times its clean resistance at once";
        return switch (e.kind()) {
            case DEBRIS -> name + step + ": debris.";
            case BYPASS -> name + step + ": bypassed, burst or left open.";
            case CHANGE_OUT -> name + step + ": changed, it seems; confirm it in the log, and it is learnt anew.";
        };
    }

    /** Pumping: lost head and a restless head ask for maintenance. */
    public static FunctionSignal pumping(
            FunctionSignal now, LoopKnown known, OptionalDouble npshRequiredM, OptionalDouble suctionM) {
        List<String> reasons = new ArrayList<>();
        List<PumpHistory> pumps = known.history().pumps();
        for (int n = 1; n <= pumps.size(); n++) {
            PumpHistory pump = pumps.get(n - 1);
            if (pump.isWorn()) {
                Estimate lost = pump.lostHead().orElseThrow();
                reasons.add("Pump " + n + " has lost " + Words.fixed(100 * lost.value(), 1) + " ± "
                        + Words.percent(Estimate.K95 * lost.standardUncertainty(), 1) + " of its head.");
            }
            if (pump.isRestless()) {
                reasons.add("The head of pump " + n + " is restless: cavitation or air."
                        + suction(npshRequiredM, suctionM));
            }
        }
        return asking(now, reasons);
    }

    private static String suction(OptionalDouble required, OptionalDouble there) {
        if (there.isEmpty()) {
            return "";
        }
        String head = " At its suction there are " + Words.fixed(there.getAsDouble(), 1) + " m above vapour pressure";
        return required.isEmpty() ? head + "." : head + ", it needs " + Words.fixed(required.getAsDouble(), 1) + " m.";
    }

    /** Control: an actuator that hunts or a stem that sticks asks for maintenance. */
    public static FunctionSignal control(FunctionSignal now, ControlState state) {
        List<String> reasons = new ArrayList<>();
        state.worst()
                .ifPresent(o -> reasons.add("The " + state.words() + " hunts, once in "
                        + Words.fixed(o.periodS(), 0) + " s by " + Words.fixed(100 * o.amplitude(), 1)
                        + " % to either side; it comes from " + state.driver() + "."));
        state.stickBand()
                .ifPresent(band -> reasons.add("The stem of the facility valve sticks: its command runs "
                        + Words.fixed(100 * band, 1) + " % ahead before it follows."));
        return asking(now, reasons);
    }

    /**
     * Instruments: a sensor that is not believed asks for maintenance.
     *
     * @param clockOffS seconds that the source's clock lies behind ours
     */
    public static FunctionSignal instruments(
            FunctionSignal now, Map<PointName, Trust> distrusted, OptionalDouble clockOffS) {
        List<String> reasons = new ArrayList<>();
        distrusted.values().stream().map(Trust::reason).sorted().collect(Collectors.toCollection(() -> reasons));
        clockOffS.ifPresent(s -> reasons.add("The clock of the controller is " + Words.fixed(Math.abs(s), 0) + " s "
                + (s < 0 ? "ahead." : "behind.")));
        return asking(now, reasons);
    }

    private static FunctionSignal asking(FunctionSignal now, List<String> reasons) {
        if (reasons.isEmpty()) {
            return now;
        }
        String all = String.join(" ", reasons);
        boolean worse = now.signal().compareTo(Ne107.MAINTENANCE_REQUIRED) > 0;
        return worse
                ? new FunctionSignal(now.function(), now.signal(), now.judged(), now.reason() + " " + all)
                : new FunctionSignal(now.function(), Ne107.MAINTENANCE_REQUIRED, true, all);
    }
}
