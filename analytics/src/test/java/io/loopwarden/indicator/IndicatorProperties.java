package io.loopwarden.indicator;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import java.util.List;
import java.util.Map;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Assume;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.Tuple;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;

/** Whatever comes in, a figure or a reason comes out. */
class IndicatorProperties {

    private static final List<PointName> POINTS = List.of(
            Points.TCS_RETURN_TEMPERATURE,
            Points.TCS_SUPPLY_TEMPERATURE,
            Points.FWS_SUPPLY_TEMPERATURE,
            Points.FWS_RETURN_TEMPERATURE,
            Points.TCS_FLOW,
            Points.FWS_FLOW,
            Points.FWS_VALVE_POSITION,
            Points.FWS_DP,
            Points.TCS_DP,
            Points.TCS_DP_SETPOINT,
            Points.APPROACH_SETPOINT,
            Points.numbered("tcs.filter.{n}.dp", 1),
            Points.numbered("tcs.filter.{n}.dp", 3),
            Points.numbered("pump.{n}.speed", 1),
            Points.numbered("pump.{n}.speed", 2),
            Points.numbered("pump.{n}.power", 2),
            Points.numbered("pump.{n}.dp", 1),
            Points.numbered("pump.{n}.dp", 2));

    private static final Design DESIGN =
            new Design(Rig.nameplate(Rig.PG25, SensorClass.DEFAULT), IndicatorSettings.DEFAULT);

    /** Finite figures are guaranteed by {@link Estimate}, which refuses anything else; so none may be asked of it. */
    @Property(tries = 1000)
    void arbitraryMeansGiveAFigureOrAReason(
            @ForAll("garbage") Map<PointName, Computed<Estimate>> now,
            @ForAll("garbage") Map<PointName, Computed<Estimate>> window) {
        Evidence evidence = new Evidence(
                DESIGN, new Means(Rig.FROM, Rig.TO, now), Computed.of(new Means(Rig.FROM, Rig.TO, window)));
        everythingIsSaid(Indicators.evaluate(evidence));
    }

    /** The same near the truth, where the deep code runs: sensible levels with one input replaced. */
    @Property(tries = 1000)
    void oneWrongInputAmongGoodOnesGivesAFigureOrAReason(
            @ForAll @IntRange(max = 7) int which, @ForAll("mean") Computed<Estimate> wrong) {
        Rig rig = Rig.of(DESIGN)
                .settled(260e3, 0.028, 0.022, 24, 1.1e6)
                .set(Points.FWS_VALVE_POSITION, 0.6, 0)
                .set(Points.FWS_DP, 110_000, 500);
        rig.set(POINTS.get(which), wrong);
        everythingIsSaid(Indicators.evaluate(rig.evidence()));
    }

    private static void everythingIsSaid(List<IndicatorResult> results) {
        assertThat(results).hasSameSizeAs(Indicators.ALL);
        for (IndicatorResult result : results) {
            assertThat(Sentences.of(result, DESIGN)).isNotBlank().doesNotContain("NaN", "Infinity", "null");
        }
        Computed<FoulingRecord> record =
                Computed.unavailable(Computed.Reason.BASELINE_MISSING, "Nothing is remembered.");
        assertThat(Signals.heatTransfer(results.get(results.size() - 1).value(), record)
                        .reason())
                .isNotBlank();
    }

    @Property(tries = 300)
    void conductanceIsFoundAgainFromTheStateItMakes(
            @ForAll @DoubleRange(min = 100e3, max = 400e3) double uaWPerK,
            @ForAll @DoubleRange(min = 0.6, max = 1.2) double tcsRatio,
            @ForAll @DoubleRange(min = 0.5, max = 1.2) double fwsRatio,
            @ForAll @DoubleRange(min = 10, max = 35) double fwsSupplyC,
            @ForAll @DoubleRange(min = 0.5, max = 1) double load) {
        Rig rig = Rig.of(Rig.nameplate(CoolantSpec.WATER, new SensorClass(0.02, 0, 0.002, 100)))
                .settled(uaWPerK, 0.032 * tcsRatio, 0.030 * fwsRatio, fwsSupplyC, 1.4e6 * load);
        Computed<Estimate> ua = rig.evaluate("ua");
        boolean shown = ua.fold(v -> true, gap -> gap.reason() != Reason.NOT_OBSERVABLE);
        Assume.that(shown);
        assertThat(Rig.value(ua).value()).isBetween(uaWPerK * (1 - 1e-6), uaWPerK * (1 + 1e-6));
    }

    @Property(tries = 300)
    void moreFoulingNeverLooksLikeMoreReserve(
            @ForAll @DoubleRange(min = 150e3, max = 300e3) double uaWPerK,
            @ForAll @DoubleRange(min = 0.7, max = 1) double flowRatio,
            @ForAll @DoubleRange(min = 0.5, max = 0.95) double cleanliness) {
        assertThat(reserve(uaWPerK * cleanliness, flowRatio)).isLessThan(reserve(uaWPerK, flowRatio));
    }

    private static double reserve(double uaWPerK, double flowRatio) {
        return Rig.of(Rig.nameplate(CoolantSpec.WATER, new SensorClass(0.02, 0, 0.002, 100)))
                .settled(uaWPerK, 0.032 * flowRatio, 0.030 * flowRatio, 25, 1.0e6)
                .set(Points.FWS_VALVE_POSITION, 0.5, 0)
                .set(Points.FWS_DP, 120_000, 100)
                .estimate("heat-transfer-reserve")
                .value();
    }

    @Provide
    Arbitrary<Map<PointName, Computed<Estimate>>> garbage() {
        return Arbitraries.maps(Arbitraries.of(POINTS), mean()).ofMaxSize(POINTS.size());
    }

    @Provide
    Arbitrary<Computed<Estimate>> mean() {
        Arbitrary<Double> value = Arbitraries.oneOf(
                Arbitraries.doubles(),
                Arbitraries.doubles().between(-50, 150),
                Arbitraries.doubles().between(0, 0.1).ofScale(4),
                Arbitraries.of(0.0, -0.0, 2.0, 90.0, Double.MAX_VALUE, -Double.MAX_VALUE, Double.MIN_VALUE));
        Arbitrary<Double> uncertainty = Arbitraries.oneOf(
                Arbitraries.doubles().between(0, 1), Arbitraries.of(0.0, Double.MIN_VALUE, 1e300, Double.MAX_VALUE));
        Arbitrary<Computed<Estimate>> known =
                Combinators.combine(value, uncertainty).as((v, u) -> Computed.of(new Estimate(v, u)));
        Arbitrary<Computed<Estimate>> unknown =
                Arbitraries.of(Reason.values()).map(reason -> Computed.unavailable(reason, "A made-up reason."));
        return Arbitraries.frequencyOf(Tuple.of(5, known), Tuple.of(1, unknown));
    }
}
