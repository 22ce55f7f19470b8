package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.control.Oscillation;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.hydraulics.FilterHistory;
import io.loopwarden.hydraulics.LoopHistory;
import io.loopwarden.hydraulics.PumpHistory;
import io.loopwarden.hydraulics.SwitchOver;
import io.loopwarden.indicator.LoopKnown;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.watch.Background;
import io.loopwarden.watch.UnitFigures;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Each part of a unit: filters, strainer, pumps, control loops, sensors.
 *
 * @param sensors those that are not fully believed
 * @param clockOffS seconds that the controller's clock lies behind ours, negative ahead; absent where it is right
 * @param leastReserve what the unit has left, and which function decides it; absent where none can be judged
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record PartsView(
        String unit,
        List<Filter> filters,
        Filter strainer,
        List<Pump> pumps,
        List<ChangeOver> changeOvers,
        Control control,
        List<Sensor> sensors,
        Double clockOffS,
        LeastReserve leastReserve) {

    /**
     * @param loading times the clean resistance, as it usually is now; absent while the clean element is learnt
     * @param event debris, bypass or change-out, from one loading to another at once
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Filter(String part, boolean learnt, Double loading, Value daysToChange, String noDate, Event event) {}

    public record Event(String kind, Instant at, double from, double to, boolean confirmed) {}

    /**
     * @param headLost share of its head that is gone since commissioning
     * @param efficiencyChange of what it was
     * @param restless its head scatters: cavitation or air
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Pump(
            String part,
            Boolean running,
            boolean learnt,
            Value headLost,
            Value efficiencyChange,
            boolean restless,
            Long starts,
            Double runTimeS) {}

    public record ChangeOver(Instant at, List<Integer> from, List<Integer> to) {}

    /** @param driver which loop drives which, in words */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Control(
            boolean followed, Swing valve, Swing pumpSpeed, Double stickBand, String driver, Value valveAuthority) {}

    public record Swing(double periodS, double amplitude) {}

    /** @param trust doubted or failed */
    public record Sensor(String point, String trust, String finding, Instant since, String reason) {}

    public record LeastReserve(String function, double value, double standardUncertainty) {}

    public record Value(double value, double standardUncertainty) {

        static Value of(Estimate e) {
            return new Value(e.value(), e.standardUncertainty());
        }
    }

    public static PartsView of(UnitNow now) {
        UnitFigures figures = now.figures();
        List<Sensor> sensors = figures.distrusted().entrySet().stream()
                .map(e -> new Sensor(
                        e.getKey().value(),
                        FigureView.hyphenated(e.getValue().level()),
                        FigureView.hyphenated(e.getValue().finding()),
                        instant(e.getValue().sinceEpochS()),
                        e.getValue().reason()))
                .toList();
        LeastReserve least = figures.leastReserve()
                .flatMap(r -> optional(r.figure().value())
                        .map(e -> new LeastReserve(
                                FigureView.hyphenated(r.function()), e.value(), e.standardUncertainty())))
                .orElse(null);
        Double clock = figures.clockOffS().isPresent() ? figures.clockOffS().getAsDouble() : null;
        String unit = now.unit().id().value();
        Optional<Background> background = figures.background();
        return background
                .map(b -> of(unit, b, figures.latest(), sensors, clock, least))
                .orElseGet(
                        () -> new PartsView(unit, List.of(), null, List.of(), List.of(), null, sensors, clock, least));
    }

    private static PartsView of(
            String unit,
            Background background,
            Map<PointName, Sample> latest,
            List<Sensor> sensors,
            Double clock,
            LeastReserve least) {
        LoopKnown known = background.loop();
        LoopHistory history = known.history();
        List<Filter> filters = new ArrayList<>();
        for (int i = 0; i < history.filters().filters().size(); i++) {
            filters.add(filter(
                    "tcs.filter." + (i + 1),
                    history.filters().filters().get(i),
                    known.filterDays().get(i)));
        }
        List<Pump> pumps = new ArrayList<>();
        for (int n = 1; n <= history.pumps().size(); n++) {
            pumps.add(pump(n, history.pumps().get(n - 1), history.running(), latest));
        }
        return new PartsView(
                unit,
                filters,
                filter("fws.strainer", history.strainer(), known.strainerDays()),
                pumps,
                history.switchOvers().stream().map(PartsView::changeOver).toList(),
                new Control(
                        background.control().covered(),
                        background.control().valve().map(PartsView::swing).orElse(null),
                        background.control().speed().map(PartsView::swing).orElse(null),
                        background.control().stickBand().isPresent()
                                ? background.control().stickBand().getAsDouble()
                                : null,
                        background.control().driver(),
                        history.valve().authority().map(Value::of).orElse(null)),
                sensors,
                clock,
                least);
    }

    private static Filter filter(String part, FilterHistory filter, Computed<Estimate> days) {
        return new Filter(
                part,
                filter.learnt(),
                filter.usualOf() == 0 ? null : filter.usual(),
                optional(days).map(Value::of).orElse(null),
                days.fold(d -> null, Computed.Unavailable::detail),
                filter.event()
                        .map(e -> new Event(
                                FigureView.hyphenated(e.kind()),
                                instant(e.atEpochS()),
                                e.from(),
                                e.to(),
                                e.confirmed()))
                        .orElse(null));
    }

    private static Pump pump(int number, PumpHistory pump, List<Integer> running, Map<PointName, Sample> latest) {
        Double starts = value(latest, Points.numbered("pump.{n}.starts", number));
        return new Pump(
                "pump." + number,
                running.contains(number),
                pump.learnt(),
                pump.lostHead().map(Value::of).orElse(null),
                pump.efficiencyShift().map(Value::of).orElse(null),
                pump.isRestless(),
                starts == null ? null : Math.round(starts),
                value(latest, Points.numbered("pump.{n}.run-time", number)));
    }

    private static Double value(Map<PointName, Sample> latest, PointName point) {
        Sample sample = latest.get(point);
        return sample == null || !sample.hasValue() ? null : (Double) sample.valueSi();
    }

    private static ChangeOver changeOver(SwitchOver s) {
        return new ChangeOver(instant(s.atEpochS()), s.from(), s.to());
    }

    private static Swing swing(Oscillation o) {
        return new Swing(o.periodS(), o.amplitude());
    }

    private static <T> Optional<T> optional(Computed<T> computed) {
        return computed.fold(Optional::of, gap -> Optional.empty());
    }

    private static Instant instant(double epochS) {
        return Instant.ofEpochMilli(Math.round(1000 * epochS));
    }
}
