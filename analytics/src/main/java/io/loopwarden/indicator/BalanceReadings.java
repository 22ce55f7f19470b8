package io.loopwarden.indicator;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.fluid.FluidState;
import io.loopwarden.instruments.BalanceReading;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.util.Optional;

/** What a unit's sensors say of each other, as the history of their drift takes it. */
final class BalanceReadings {

    private BalanceReadings() {}

    /** Pairs over the last two minutes, the heat balance over the steady window. */
    static BalanceReading of(Design design, Means recent, Computed<Means> steady) {
        Optional<Balance> balance = steady.fold(means -> balance(design, means), gap -> Optional.empty());
        return new BalanceReading(
                recent.to().getEpochSecond(),
                difference(recent, Points.TCS_SUPPLY_TEMPERATURE, Points.TCS_SUPPLY_TEMPERATURE_REDUNDANT),
                difference(recent, Points.TCS_RETURN_TEMPERATURE, Points.TCS_RETURN_TEMPERATURE_REDUNDANT),
                flowPair(design, recent),
                balance.map(Balance::openK),
                balance.map(Balance::riseK).orElse(0.0),
                balance.map(Balance::rateRatio).orElse(1.0));
    }

    private record Balance(double openK, double riseK, double rateRatio) {}

    private static Optional<Balance> balance(Design design, Means means) {
        return value(means, Points.TCS_RETURN_TEMPERATURE)
                .flatMap(warm -> value(means, Points.TCS_SUPPLY_TEMPERATURE)
                        .flatMap(cool -> value(means, Points.FWS_RETURN_TEMPERATURE)
                                .flatMap(out -> value(means, Points.FWS_SUPPLY_TEMPERATURE)
                                        .flatMap(in -> rateRatio(design, means, warm, cool, out, in)
                                                .map(r ->
                                                        new Balance(warm - cool - r * (out - in), warm - cool, r))))));
    }

    private static Optional<Double> rateRatio(
            Design design, Means means, double warm, double cool, double out, double in) {
        return optional(Side.TCS.runningFlow(design, means))
                .flatMap(t -> optional(Side.FWS.runningFlow(design, means))
                        .flatMap(f -> optional(Side.TCS.heatCapacityJPerM3K(design, warm, cool))
                                .flatMap(ct -> optional(Side.FWS.heatCapacityJPerM3K(design, out, in))
                                        .map(cf -> cf.value() * f.value() / (ct.value() * t.value())))));
    }

    private static Optional<Double> difference(Means means, PointName point, PointName other) {
        return value(means, point).flatMap(a -> value(means, other).map(b -> a - b));
    }

    /** Meters sit in supply and return; what passes them is the same mass unless the loop leaks. */
    private static Optional<Double> flowPair(Design design, Means means) {
        Coolant coolant = design.tcsCoolant();
        return optional(Side.TCS.runningFlow(design, means))
                .flatMap(q -> value(means, Points.TCS_RETURN_FLOW)
                        .flatMap(back -> density(coolant, means, Points.TCS_SUPPLY_TEMPERATURE)
                                .flatMap(cool -> density(coolant, means, Points.TCS_RETURN_TEMPERATURE)
                                        .filter(warm -> back > 0)
                                        .map(warm -> q.value() * cool / (back * warm) - 1))));
    }

    private static Optional<Double> density(Coolant coolant, Means means, PointName point) {
        return value(means, point)
                .flatMap(t ->
                        coolant.stateAt(t).map(FluidState::densityKgPerM3).fold(Optional::of, gap -> Optional.empty()));
    }

    private static Optional<Double> value(Means means, PointName point) {
        return optional(means.of(point)).map(Estimate::value);
    }

    private static <T> Optional<T> optional(Computed<T> computed) {
        return computed.fold(Optional::of, gap -> Optional.empty());
    }
}
