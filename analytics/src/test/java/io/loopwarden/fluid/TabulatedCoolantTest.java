package io.loopwarden.fluid;

import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import io.loopwarden.fleet.CoolantSpec;
import java.util.function.DoubleFunction;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class TabulatedCoolantTest {

    /** 1e-7 relative; the expansion crosses zero near 4 °C, so absolutely 1e-10 per kelvin (1e-7 of 1e-3). */
    private static void interpolates(
            Coolant coolant,
            double leastC,
            DoubleFunction<FluidState> formulation,
            DoubleUnaryOperator enthalpyJPerKg) {
        for (double t = leastC; t <= 90; t += 0.0371) {
            FluidState table = valueOf(coolant.stateAt(t));
            FluidState exact = formulation.apply(t);
            assertThat(table.densityKgPerM3()).isCloseTo(exact.densityKgPerM3(), withinPercentage(1e-5));
            assertThat(table.specificHeatJPerKgK()).isCloseTo(exact.specificHeatJPerKgK(), withinPercentage(1e-5));
            assertThat(table.viscosityPaS()).isCloseTo(exact.viscosityPaS(), withinPercentage(1e-5));
            assertThat(table.conductivityWPerMK()).isCloseTo(exact.conductivityWPerMK(), withinPercentage(1e-5));
            assertThat(table.expansionPerK()).isCloseTo(exact.expansionPerK(), within(1e-10));
            assertThat(valueOf(coolant.enthalpyJPerKg(t))).isCloseTo(enthalpyJPerKg.applyAsDouble(t), within(1e-3));
        }
    }

    @Test
    void waterStaysWithinTheStatedInterpolationError() {
        interpolates(
                Coolant.of(CoolantSpec.WATER),
                2,
                t -> Water.state(t, Water.PRESSURE_PA),
                t -> IapwsRegion1.at(t + 273.15, Water.PRESSURE_PA).enthalpyJPerKg());
    }

    @Test
    void glycolStaysWithinTheStatedInterpolationError() {
        for (double w : new double[] {0.1, 0.257, 0.5, 0.6}) {
            interpolates(
                    Coolant.of(new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, w)),
                    PropyleneGlycol.freezingPointC(w),
                    t -> PropyleneGlycol.state(w, t),
                    t -> PropyleneGlycol.enthalpyJPerKg(w, t));
        }
    }
}
