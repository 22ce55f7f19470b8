package io.loopwarden.indicator;

import io.loopwarden.exchanger.ExchangerState;
import io.loopwarden.exchanger.SteadyState;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.ArrayList;
import java.util.List;

/** The steady means as the exchanger sees them. */
final class SteadyStates {

    private static final List<PointName> IN_ORDER =
            List.of(Side.TCS.flow, Side.FWS.flow, Side.TCS.warm, Side.TCS.cool, Side.FWS.cool, Side.FWS.warm);

    private SteadyStates() {}

    static Computed<SteadyState> of(Design design, Means means) {
        SensorClass sensors = design.nameplate().sensors();
        return Computed.all(IN_ORDER.stream().map(means::of).toList()).map(e -> {
            List<Double> scatter = new ArrayList<>();
            for (int i = 0; i < IN_ORDER.size(); i++) {
                scatter.add(scatter(IN_ORDER.get(i), e.get(i), sensors));
            }
            ExchangerState state = new ExchangerState(
                    e.get(0).value(),
                    e.get(1).value(),
                    e.get(2).value(),
                    e.get(3).value(),
                    e.get(4).value(),
                    e.get(5).value());
            return new SteadyState(means.from(), means.to(), state, scatter);
        });
    }

    /** A mean's uncertainty holds class and scatter together; what the class does not explain is scatter. */
    private static double scatter(PointName point, Estimate mean, SensorClass sensors) {
        double systematic = point.quantity() == Quantity.VOLUME_FLOW
                ? Math.abs(mean.value()) * sensors.flowStandardUncertaintyRatio()
                : sensors.temperatureStandardUncertaintyK(mean.value());
        double u = mean.standardUncertainty();
        return Math.sqrt(Math.max(0, u * u - systematic * systematic));
    }
}
