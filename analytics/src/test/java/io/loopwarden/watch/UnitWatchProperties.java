package io.loopwarden.watch;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.Sample;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Sentences;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.Tuple;

/** Whatever samples come, in whatever order. */
class UnitWatchProperties {

    private static final List<PointName> POINTS = List.of(
            Points.TCS_RETURN_TEMPERATURE,
            Points.TCS_SUPPLY_TEMPERATURE,
            Points.FWS_SUPPLY_TEMPERATURE,
            Points.FWS_RETURN_TEMPERATURE,
            Points.TCS_FLOW,
            Points.FWS_FLOW,
            Points.FWS_VALVE_POSITION,
            Points.FWS_DP,
            Points.RESERVOIR_LEVEL,
            Points.TRAY_WET,
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

    @Property(tries = 300)
    void arbitrarySamplesGiveAFigureOrAReasonForEveryIndicator(@ForAll("samples") List<Sample> samples) {
        UnitWatch watch = new UnitWatch(Bench.UNIT);
        samples.forEach(watch::accept);
        for (long second : new long[] {0, 1, 400, 900, 100_000}) {
            UnitFigures figures = watch.evaluate(Bench.START.plusSeconds(second));
            for (IndicatorResult result : figures.results()) {
                assertThat(Sentences.of(result, watch.design())).doesNotContain("NaN");
            }
        }
        UnitWatch.Counts counts = watch.counts();
        assertThat(counts.taken() + counts.tooOld()).isEqualTo(samples.size());
    }

    @Property(tries = 200)
    void theOrderOfSamplesWithinTheWindowDoesNotMatter(@ForAll("samples") List<Sample> samples, @ForAll long seed) {
        List<Sample> shuffled = new ArrayList<>(samples);
        shuffled.addAll(samples);
        Collections.shuffle(shuffled, new Random(seed));
        assertThat(figures(shuffled)).isEqualTo(figures(samples));
    }

    private static List<IndicatorResult> figures(List<Sample> samples) {
        UnitWatch watch = new UnitWatch(Bench.UNIT);
        samples.forEach(watch::accept);
        return watch.evaluate(Bench.START.plusSeconds(880)).results();
    }

    @Provide
    Arbitrary<List<Sample>> samples() {
        Arbitrary<PointName> point = Arbitraries.of(POINTS);
        Arbitrary<Instant> time = Arbitraries.integers().between(0, 880_000).map(ms -> Bench.START.plusMillis(ms));
        Arbitrary<RawValue> raw = Arbitraries.oneOf(
                Arbitraries.doubles().map(RawValue::of),
                Arbitraries.doubles().between(-10, 60).map(RawValue::of),
                Arbitraries.doubles().between(0, 0.1).ofScale(4).map(RawValue::of),
                Arbitraries.longs().map(RawValue::of));
        Arbitrary<Quality> quality = Arbitraries.frequencyOf(
                Tuple.of(8, Arbitraries.just(Quality.GOOD)),
                Tuple.of(1, Arbitraries.just(new Quality(Quality.Level.BAD, 1))),
                Tuple.of(1, Arbitraries.just(new Quality(Quality.Level.UNCERTAIN, 2))));
        Arbitrary<Conversion> conversion =
                Arbitraries.of(new Conversion(1, 0, "1"), new Conversion(1e308, 0, "1"), new Conversion(0.1, -3, "1"));
        return Combinators.combine(point, time, raw, conversion, quality)
                .as(Sample::new)
                .list()
                .ofMaxSize(400);
    }
}
