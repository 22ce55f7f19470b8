package io.loopwarden.indicator;

import io.loopwarden.exchanger.ExchangerState;
import io.loopwarden.exchanger.SensorBalance;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.List;

/**
 * Chance that sensors as good as stated disagree as much as these do; its subject is the sensor that stands out. Small is bad: 0.05
 * once in twenty by chance.
 */
final class SensorAgreement extends Figure {

    private static final List<PointName> IN_ORDER =
            List.of(Side.TCS.flow, Side.FWS.flow, Side.TCS.warm, Side.TCS.cool, Side.FWS.cool, Side.FWS.warm);
    private static final List<String> NAMES =
            IN_ORDER.stream().map(PointName::value).toList();

    private static final List<PointName> SECOND = List.of(
            Points.TCS_RETURN_TEMPERATURE_REDUNDANT, Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT, Points.TCS_RETURN_FLOW);

    private static final int TCS_FLOW = 0;
    private static final int TCS_RETURN = 2;
    private static final int TCS_SUPPLY = 3;
    private static final double SUSPICIOUS = 0.05;

    SensorAgreement() {
        super("sensor-agreement", UnitFunction.INSTRUMENTS, "1", Basis.STEADY);
    }

    @Override
    public Computed<Estimate> evaluate(Evidence evidence) {
        return evidence.sensorBalance().map(b -> new Estimate(Math.min(1, Math.max(0, b.pValue())), 0));
    }

    @Override
    public String subject(Evidence evidence) {
        return evidence.sensorBalance()
                .fold(b -> b.pValue() < SUSPICIOUS ? b.suspect().orElse("") : "", gap -> "");
    }

    /** All that {@link #balance} looks at, the unit's design aside. */
    static List<Computed<Estimate>> inputs(Means steady, Means recent) {
        List<Computed<Estimate>> inputs = new ArrayList<>(IN_ORDER.size() + SECOND.size());
        IN_ORDER.forEach(point -> inputs.add(steady.of(point)));
        SECOND.forEach(point -> inputs.add(recent.of(point)));
        return inputs;
    }

    /** @param recent also knows the second sensors, which the steady window does not */
    static Computed<SensorBalance> balance(Design design, Means steady, Means recent) {
        return Computed.all(IN_ORDER.stream().map(steady::of).toList()).flatMap(e -> {
            ExchangerState state = new ExchangerState(
                    e.get(0).value(),
                    e.get(1).value(),
                    e.get(2).value(),
                    e.get(3).value(),
                    e.get(4).value(),
                    e.get(5).value());
            return state.plausible().flatMap(s -> {
                double[] u = new double[IN_ORDER.size() + 2];
                for (int i = 0; i < e.size(); i++) {
                    u[i] = e.get(i).standardUncertainty();
                }
                u[6] = design.tcsCoolant().uncertaintyAt(s.hotMeanC()).heatCapacityRatio();
                u[7] = design.fwsCoolant().uncertaintyAt(s.coldMeanC()).heatCapacityRatio();
                return SensorBalance.of(design.exchanger(), s, NAMES, u, seconds(design, s, recent));
            });
        });
    }

    private static List<SensorBalance.Second> seconds(Design design, ExchangerState s, Means recent) {
        List<SensorBalance.Second> seconds = new ArrayList<>();
        add(seconds, recent, Points.TCS_RETURN_TEMPERATURE_REDUNDANT, TCS_RETURN, 1);
        add(seconds, recent, Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT, TCS_SUPPLY, 1);
        // equal masses: the warmer return takes more volume
        double volume = design.tcsCoolant()
                .stateAt(s.hotOutletC())
                .flatMap(cool -> design.tcsCoolant()
                        .stateAt(s.hotInletC())
                        .map(warm -> cool.densityKgPerM3() / warm.densityKgPerM3()))
                .fold(ratio -> ratio, gap -> 1.0);
        add(seconds, recent, Points.TCS_RETURN_FLOW, TCS_FLOW, volume);
        return seconds;
    }

    private static void add(List<SensorBalance.Second> seconds, Means recent, PointName point, int of, double ratio) {
        recent.of(point)
                .map(e -> seconds.add(
                        new SensorBalance.Second(point.value(), of, e.value(), e.standardUncertainty(), ratio)));
    }
}
