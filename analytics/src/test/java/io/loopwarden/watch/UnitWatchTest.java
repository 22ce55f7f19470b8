package io.loopwarden.watch;

import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.fleet.SensorClass;
import org.junit.jupiter.api.Test;

class UnitWatchTest {

    @Test
    void aSteadyQuarterOfAnHourGivesEveryFigure() {
        Bench bench = new Bench(SensorClass.DEFAULT);
        bench.run(900);
        UnitFigures figures = bench.evaluate();
        assertThat(figures.results())
                .allSatisfy(r -> assertThat(r.value().isAvailable())
                        .as(r.key() + ": " + r.value())
                        .isTrue());
        assertThat(figures.behindTheApproach())
                .startsWith(
                        "The approach reads 4.0 K, held with the valve 71 % open; fully open and at 1.40 MW it would");
        assertThat(figures.latest()).hasSize(9);
    }
}
