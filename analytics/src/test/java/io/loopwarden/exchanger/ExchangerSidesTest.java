package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.reasonOf;
import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.statistics.Computed.Reason;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

class ExchangerSidesTest {

    private static final Instant BEGIN = Instant.parse("2026-11-02T00:00:00Z");
    private static final Instant END = BEGIN.plus(Duration.ofDays(16));

    private static ExchangerSides sixteenDays(IntToDoubleFunction tcs, IntToDoubleFunction fws) {
        Random random = new Random(4);
        ExchangerSides sides = ExchangerSides.NEW;
        for (int quarter = 0; quarter < 96 * 16; quarter++) {
            int day = quarter / 96;
            double tcsFlow = 0.8 + 0.1 * random.nextDouble();
            double fwsFlow = 0.3 + 0.6 * random.nextDouble();
            sides = sides.after(
                    BEGIN.plus(Duration.ofMinutes(15L * quarter)),
                    Optional.of(45e3 * Math.pow(tcsFlow, 1.75) * tcs.applyAsDouble(day) * noise(random)),
                    tcsFlow,
                    Optional.of(35e3 * Math.pow(fwsFlow, 1.82) * fws.applyAsDouble(day) * noise(random)),
                    fwsFlow);
        }
        return sides;
    }

    private static double noise(Random random) {
        return 1 + 0.01 * random.nextGaussian();
    }

    @Test
    void theSideWhosePressureGrowsIsNamed() {
        ExchangerSides sides = sixteenDays(day -> 1, day -> day < 8 ? 1 : 1.12);
        assertThat(valueOf(sides.fwsGrowthRatio(END)).value()).isCloseTo(0.12, within(0.02));
        assertThat(valueOf(sides.tcsGrowthRatio(END)).value()).isCloseTo(0, within(0.02));
        assertThat(sides.likelySide(END)).isEqualTo("FWS side, by its differential pressure");
        assertThat(sixteenDays(day -> day < 8 ? 1 : 1.12, day -> 1).likelySide(END))
                .isEqualTo("TCS side, by its differential pressure");
    }

    @Test
    void whereBothOrNeitherGrowNoSideIsNamed() {
        assertThat(sixteenDays(day -> 1, day -> 1).likelySide(END)).isEmpty();
        assertThat(sixteenDays(day -> day < 8 ? 1 : 1.1, day -> day < 8 ? 1 : 1.1)
                        .likelySide(END))
                .isEmpty();
    }

    @Test
    void withoutASensorTheSideIsNotKnown() {
        ExchangerSides sides = ExchangerSides.NEW.after(BEGIN, Optional.empty(), 0.8, Optional.of(-3.0), 0.8);
        assertThat(sides).isEqualTo(ExchangerSides.NEW);
        assertThat(reasonOf(sides.fwsGrowthRatio(END))).isEqualTo(Reason.BASELINE_MISSING);
    }
}
