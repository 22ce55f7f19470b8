package io.loopwarden.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.inventory.LeakMemory;
import io.loopwarden.inventory.LeakSettings;
import io.loopwarden.inventory.LeakSuspicion;
import io.loopwarden.inventory.LoopPoint;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class ContainmentWatchTest {

    private static final long START_S = 1_795_600_800L;
    private static final double RESERVOIR_L = 1000 * Bench.UNIT.nameplate().reservoirVolumeM3();

    private record Fed(LoopPoint point, long ms, double value) {}

    /** A steady loop that loses so much from a minute on, a value every ten seconds. */
    private static List<Fed> samples(int minutes, int fromMinute, double litresPerHour, long seed) {
        Random random = new Random(seed);
        List<Fed> fed = new ArrayList<>();
        for (int s = 0; s < 60 * minutes; s += 10) {
            double lost = Math.max(0, s - 60 * fromMinute) / 3600.0 * litresPerHour;
            double level = 0.6 - lost / RESERVOIR_L + 0.002 * random.nextGaussian();
            long ms = 1000 * (START_S + s);
            fed.add(new Fed(LoopPoint.LEVEL, ms, Math.rint(level / 5e-4) * 5e-4));
            fed.add(new Fed(LoopPoint.SUPPLY_TEMPERATURE, ms + 3, 34 + 0.01 * random.nextGaussian()));
            fed.add(new Fed(LoopPoint.RETURN_TEMPERATURE, ms + 5, 44 + 0.01 * random.nextGaussian()));
            fed.add(new Fed(LoopPoint.SPEED_1, ms + 8, 0.8));
        }
        return fed;
    }

    private static ContainmentWatch watch() {
        return new ContainmentWatch(Bench.UNIT.nameplate(), LeakSettings.DEFAULT);
    }

    private static void feed(ContainmentWatch watch, List<Fed> fed) {
        fed.forEach(f -> watch.accept(f.point, f.ms, f.value, true));
    }

    private static LeakSuspicion suspicion(ContainmentWatch watch) {
        return watch.suspicion().fold(s -> s, gap -> {
            throw new AssertionError(gap.detail());
        });
    }

    @Test
    void aTightLoopIsNotSuspectedAndSaysWhatItWouldSee() {
        ContainmentWatch watch = watch();
        feed(watch, samples(600, 600, 0, 1));
        LeakSuspicion s = suspicion(watch);
        assertThat(s.called()).isFalse();
        assertThat(s.probability()).isLessThan(0.01);
        assertThat(s.visibleM3PerS().isAvailable()).isTrue();
    }

    @Test
    void aLossIsCalledWithRateAmountAndTimeLeft() {
        ContainmentWatch watch = watch();
        feed(watch, samples(360, 300, 12, 2));
        LeakSuspicion s = suspicion(watch);
        assertThat(s.called()).isTrue();
        double litresPerH = 3.6e6 * s.rateM3PerS().fold(e -> e.value(), gap -> 0.0);
        assertThat(litresPerH).isCloseTo(12, within(4.0));
        assertThat(1000 * s.lostM3().fold(e -> e.value(), gap -> 0.0)).isCloseTo(12, within(3.0));
        double hours = s.toLowLevelS().fold(e -> e.value(), gap -> 0.0) / 3600;
        assertThat(hours).isCloseTo((0.5 * RESERVOIR_L - 12) / 12, within(3.0));
        assertThat(s.evidence()).isNotEmpty();
    }

    @Test
    void whatComesWithinTenSecondsInAnotherOrderGivesTheSame() {
        List<Fed> fed = samples(360, 300, 12, 3);
        ContainmentWatch ordered = watch();
        feed(ordered, fed);
        List<Fed> disordered = new ArrayList<>(fed);
        for (int i = 0; i + 4 <= disordered.size(); i += 4) {
            java.util.Collections.swap(disordered, i, i + 3);
        }
        ContainmentWatch other = watch();
        feed(other, disordered);
        feed(other, fed.subList(fed.size() - 8, fed.size()));
        assertThat(suspicion(other)).isEqualTo(suspicion(ordered));
    }

    @Test
    void aLossGoesOnOverARestart() {
        List<Fed> fed = samples(400, 300, 12, 4);
        ContainmentWatch before = watch();
        feed(before, fed.subList(0, 4 * 6 * 350));
        LeakMemory memory = before.memory();
        assertThat(memory.loss()).isPresent();
        ContainmentWatch after = watch();
        after.restore(memory);
        feed(after, fed.subList(4 * 6 * 360, fed.size()));
        LeakSuspicion s = suspicion(after);
        assertThat(s.called()).isTrue();
        assertThat(1000 * s.lostM3().fold(e -> e.value(), gap -> 0.0)).isCloseTo(20, within(4.0));
    }

    @Test
    void theUnitsSignalSaysSo() {
        Bench bench = new Bench();
        bench.level(Points.RESERVOIR_LEVEL, 0.6, 0.002);
        bench.run(1200);
        UnitFigures calm = bench.evaluate();
        assertThat(signal(calm)).isEqualTo(Ne107.GOOD);
        bench.signal(Points.RESERVOIR_LEVEL, t -> 0.6 - (t - 1200) * 0.3 / RESERVOIR_L + bench.noise(0.002));
        bench.run(40);
        UnitFigures burst = bench.evaluate();
        assertThat(signal(burst)).isIn(Ne107.FAILURE, Ne107.OUT_OF_SPECIFICATION);
        assertThat(burst.leak().orElseThrow().likeliest().words()).isEqualTo("burst");
        bench.silence(PointName.of("reservoir.level"));
    }

    private static Ne107 signal(UnitFigures figures) {
        return figures.signals().stream()
                .filter(s -> s.function() == UnitFunction.CONTAINMENT)
                .findFirst()
                .orElseThrow()
                .signal();
    }
}
