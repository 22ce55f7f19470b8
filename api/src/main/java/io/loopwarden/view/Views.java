package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Sentences;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.view.UnitDetail.NameplateView;
import io.loopwarden.view.UnitDetail.PointView;
import io.loopwarden.view.UnitRow.ConnectionState;
import io.loopwarden.view.UnitRow.FunctionState;
import io.loopwarden.view.UnitRow.Signal;
import io.loopwarden.watch.UnitFigures;
import java.time.Clock;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/** From what is known of a unit to what leaves. */
public final class Views {

    /** The figure that sums up each function. */
    private static final Map<UnitFunction, String> SUMMARY = Map.of(
            UnitFunction.HEAT_TRANSFER, "heat-transfer-reserve",
            UnitFunction.FILTRATION, "filtration-reserve",
            UnitFunction.PUMPING, "pumping-reserve",
            UnitFunction.CONTAINMENT, "leak-suspicion",
            UnitFunction.CONTROL, "control-reserve",
            UnitFunction.INSTRUMENTS, "heat-balance-closure");

    private static final Set<String> FLEET_FIGURES =
            Set.of("approach", "duty", "tcs-duty", "fws-duty", "heat-balance-closure", "time-to-low-level");

    private final Clock clock;
    private final FleetView.Site site;
    private final Function<UnitId, Optional<ConnectionStatus>> connections;

    /** @param connections how the unit's connection is doing, where it has one that works */
    public Views(Clock clock, FleetView.Site site, Function<UnitId, Optional<ConnectionStatus>> connections) {
        this.clock = clock;
        this.site = site;
        this.connections = connections;
    }

    public FleetView fleet(Collection<UnitNow> units) {
        return new FleetView(
                clock.instant(), site, units.stream().map(this::row).toList());
    }

    /** What the fleet page shows of a unit; of its figures only those, since every page gets it again and again. */
    public UnitRow row(UnitNow now) {
        return row(now, key -> FLEET_FIGURES.contains(key) || key.contains("days-to"));
    }

    private UnitRow row(UnitNow now, Predicate<String> wanted) {
        Unit unit = now.unit();
        Nameplate nameplate = unit.nameplate();
        UnitFigures figures = now.figures();
        Map<String, FigureView> byKey = new LinkedHashMap<>();
        for (IndicatorResult result : figures.results()) {
            byKey.put(result.key(), FigureView.of(result));
        }
        return new UnitRow(
                unit.id().value(),
                unit.hall(),
                nameplate.supplier(),
                nameplate.model(),
                words(nameplate.tcsCoolant()),
                nameplate.ratedDutyW(),
                nameplate.ratedApproachK(),
                summary(figures),
                connection(unit.id()),
                now.lastSampleAt().orElse(null),
                functions(now, byKey),
                byKey.entrySet().stream()
                        .filter(figure -> wanted.test(figure.getKey()))
                        .collect(Collectors.toMap(
                                Map.Entry::getKey, Map.Entry::getValue, (a, b) -> a, LinkedHashMap::new)));
    }

    public UnitDetail detail(UnitNow now) {
        Map<String, String> sentences = new LinkedHashMap<>();
        for (IndicatorResult result : now.figures().results()) {
            sentences.put(result.key(), Sentences.of(result, now.design()));
        }
        List<PointView> points = new ArrayList<>();
        for (Sample sample : now.figures().latest().values()) {
            points.add(point(sample));
        }
        UnitRow row = row(now, key -> true);
        return new UnitDetail(
                row,
                headline(row, sentences),
                now.figures().behindTheApproach(),
                nameplate(now.unit().nameplate()),
                sentences,
                points,
                now.figures().leak().map(LeakView::of).orElse(null));
    }

    private static String headline(UnitRow row, Map<String, String> sentences) {
        return row.signal().code().equals("good")
                ? sentences.getOrDefault("approach-at-rated-duty", row.signal().reason())
                : row.signal().reason();
    }

    private static Signal summary(UnitFigures figures) {
        return figures.signals().stream()
                .max((a, b) -> a.signal().compareTo(b.signal()))
                .map(Views::signal)
                .orElse(new Signal("good", "", "Nothing is judged yet.", false));
    }

    private static Signal signal(FunctionSignal signal) {
        return new Signal(hyphenated(signal.signal()), hyphenated(signal.function()), signal.reason(), signal.judged());
    }

    private static List<FunctionState> functions(UnitNow now, Map<String, FigureView> byKey) {
        List<FunctionState> functions = new ArrayList<>();
        for (FunctionSignal signal : now.figures().signals()) {
            String key = SUMMARY.get(signal.function());
            String sentence = now.figures()
                    .result(key)
                    .map(result -> Sentences.of(result, now.design()))
                    .orElse(signal.reason());
            functions.add(new FunctionState(hyphenated(signal.function()), signal(signal), byKey.get(key), sentence));
        }
        return functions;
    }

    ConnectionState connection(UnitId unit) {
        return connections
                .apply(unit)
                .map(status -> new ConnectionState(
                        status.connection(), status.protocol(), hyphenated(status.state()), status.detail()))
                .orElse(new ConnectionState(
                        "", "", "none", "no connection of this unit could be set up; see data quality"));
    }

    private static NameplateView nameplate(Nameplate n) {
        return new NameplateView(
                n.ratedDutyW(),
                n.ratedApproachK(),
                n.ratedTcsFlowM3PerS(),
                n.ratedFwsFlowM3PerS(),
                n.availableHeadPa(),
                n.designFwsSupplyTemperatureC(),
                words(n.tcsCoolant()),
                words(n.fwsCoolant()),
                n.pumps(),
                n.pumpsNeeded(),
                n.exchangers(),
                n.filters(),
                n.loopVolumeM3(),
                n.reservoirVolumeM3(),
                n.filterTerminalDpPa(),
                n.plateAreaM2().isPresent() ? n.plateAreaM2().getAsDouble() : null);
    }

    public static PointView point(Sample sample) {
        return new PointView(
                sample.point().value(),
                hyphenated(sample.point().quantity()),
                sample.point().quantity().ucum(),
                sample.hasValue() ? sample.valueSi() : null,
                hyphenated(sample.quality().level()),
                sample.quality().code(),
                sample.measuredAt(),
                sample.conversion().ucum(),
                text(sample.raw()));
    }

    static String text(RawValue raw) {
        if (raw instanceof RawValue.Decimal decimal) {
            return Double.toString(decimal.value());
        }
        return raw instanceof RawValue.Whole whole ? Long.toString(whole.value()) : null;
    }

    private static String words(CoolantSpec coolant) {
        return coolant.kind() == CoolantSpec.Kind.WATER
                ? "water"
                : "PG-" + Math.round(100 * coolant.glycolMassFraction());
    }
}
