package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.UnitId;
import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.watch.UnitFigures;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.sql.DataSource;

/** What every database must do with figures over time. */
final class FigureCases {

    private static final Instant MORNING = Instant.parse("2026-11-18T06:00:00Z");

    private final FigureStore figures;
    private final ManualClock clock;
    private final UnitId unit;

    FigureCases(DataSource database, Flavour flavour, ManualClock clock, UnitId unit) {
        this.figures = new FigureStore(database, flavour, FigureSettings.DEFAULT, clock);
        this.clock = clock;
        this.unit = unit;
    }

    /** Two hours, one minute in ten without a value; the approach rises by 1 mK a minute. */
    void minutesThenHours() throws SQLException {
        figures.keepUp();
        for (int minute = 0; minute < 120; minute++) {
            Instant at = MORNING.plusSeconds(60L * minute + 7);
            figures.write(List.of(evaluated(at, minute % 10 == 0 ? none() : value(4 + minute / 1000.0, 0.05))));
            figures.write(List.of(evaluated(at.plusSeconds(20), value(99, 9))));
        }
        figures.write(List.of(new UnitFigures(new UnitId("unknown"), MORNING, List.of(), List.of(), "", Map.of())));

        FigureSeries minutes = approach(MORNING, MORNING.plusSeconds(1200), 20);
        assertThat(minutes.step()).isEqualTo(Duration.ofMinutes(1));
        assertThat(minutes.buckets()).hasSize(20);
        assertThat(minutes.buckets().get(0).mean()).isEmpty();
        assertThat(minutes.buckets().get(0).reason()).contains(Reason.NOT_STEADY);
        assertThat(minutes.buckets().get(19).mean().orElseThrow()).isCloseTo(4.019, within(1e-6));

        FigureSeries before = approach(MORNING, MORNING.plus(Duration.ofDays(3)), 72);
        clock.set(MORNING.plus(Duration.ofDays(2)));
        assertThat(figures.closeDays()).isPositive();
        assertThat(figures.closeDays()).isZero();
        FigureSeries after = approach(MORNING, MORNING.plus(Duration.ofDays(3)), 72);
        assertThat(after.step()).isEqualTo(Duration.ofHours(1));
        assertThat(after.buckets()).hasSize(2);
        for (int hour = 0; hour < 2; hour++) {
            FigureBucket rolled = after.buckets().get(hour);
            FigureBucket direct = before.buckets().get(hour);
            assertThat(rolled.start()).isEqualTo(MORNING.plus(Duration.ofHours(hour)));
            assertThat(rolled.values()).isEqualTo(direct.values()).isEqualTo(54);
            assertThat(rolled.gaps()).isEqualTo(direct.gaps()).isEqualTo(6);
            assertThat(rolled.reason()).isEqualTo(direct.reason()).isEqualTo(Optional.of(Reason.NOT_STEADY));
            assertThat(rolled.min().orElseThrow()).isCloseTo(4.001 + 0.06 * hour, within(1e-6));
            assertThat(rolled.max().orElseThrow()).isCloseTo(4.059 + 0.06 * hour, within(1e-6));
            assertThat(rolled.mean().orElseThrow()).isCloseTo(direct.mean().orElseThrow(), within(1e-6));
            assertThat(rolled.standardUncertainty().orElseThrow()).isCloseTo(0.05, within(1e-6));
        }

        Map<UnitId, FigureSeries> signal = figures.reader()
                .all(
                        List.of(unit, new UnitId("unknown")),
                        FigureStore.SIGNAL + "heat-transfer",
                        MORNING,
                        MORNING.plus(Duration.ofDays(1)),
                        1);
        assertThat(signal.get(unit).buckets().get(0).max()).hasValue(Ne107.MAINTENANCE_REQUIRED.ordinal());
        assertThat(signal.get(new UnitId("unknown")).buckets()).isEmpty();
    }

    private FigureSeries approach(Instant from, Instant to, int width) throws SQLException {
        return figures.reader().series(unit, "approach", from, to, width);
    }

    private UnitFigures evaluated(Instant at, Computed<Estimate> approach) {
        return new UnitFigures(
                unit,
                at,
                List.of(new IndicatorResult("approach", UnitFunction.CONTROL, "K", at, at, approach)),
                List.of(new FunctionSignal(
                        UnitFunction.HEAT_TRANSFER, Ne107.MAINTENANCE_REQUIRED, true, "Clean soon.")),
                "",
                Map.of());
    }

    private static Computed<Estimate> value(double value, double uncertainty) {
        return Computed.of(new Estimate(value, uncertainty));
    }

    private static Computed<Estimate> none() {
        return Computed.unavailable(Reason.NOT_STEADY, "The valve moves.");
    }
}
