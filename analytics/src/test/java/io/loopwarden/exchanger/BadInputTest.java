package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;

import io.loopwarden.exchanger.Stream.Meter;
import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.Estimate;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Whatever the plant sends, the answer is a finite figure or a named reason, never an exception. */
class BadInputTest {

    private static final Exchanger EXCHANGER = new Exchanger(
            new Stream(Coolant.of(CoolantSpec.WATER), Meter.AT_OUTLET),
            new Stream(Coolant.of(CoolantSpec.WATER), Meter.AT_INLET));
    private static final Nameplate NAMEPLATE = new Nameplate(
            "Ostravik",
            "O1",
            1e6,
            4,
            0.024,
            0.024,
            OptionalDouble.empty(),
            200e3,
            30,
            CoolantSpec.WATER,
            CoolantSpec.WATER,
            2,
            1,
            1,
            2,
            0.4,
            0.1,
            100e3,
            OptionalDouble.empty(),
            SensorClass.DEFAULT);
    private static final Covariance NOISE = Covariance.independent(3e-5, 3e-5, 0.01, 0.01, 0.01, 0.01, 0, 0);
    private static final double[] STRANGE = {
        0,
        -1,
        1e-12,
        1e12,
        -1e12,
        1e300,
        Double.MIN_VALUE,
        Double.NaN,
        Double.POSITIVE_INFINITY,
        -40,
        4,
        90,
        200,
        273.15
    };

    /** A healthy state with up to three of its values replaced, swapped, scaled tenfold, made equal or nudged. */
    private static ExchangerState spoilt(Random random) {
        double[] x = {0.024, 0.024, 44, 34, 30, 40};
        for (int k = random.nextInt(4); k > 0; k--) {
            int i = random.nextInt(x.length);
            int j = random.nextInt(x.length);
            switch (random.nextInt(5)) {
                case 0 -> x[i] = STRANGE[random.nextInt(STRANGE.length)];
                case 1 -> x[i] *= random.nextBoolean() ? 10 : 0.1;
                case 2 -> x[i] = x[j];
                case 3 -> {
                    double kept = x[i];
                    x[i] = x[j];
                    x[j] = kept;
                }
                default -> x[i] += random.nextGaussian() * 5;
            }
        }
        return new ExchangerState(x[0], x[1], x[2], x[3], x[4], x[5]);
    }

    @Test
    void spoiltStatesGiveReasonsOrFiniteFigures() {
        CleanModel model = valueOf(CleanLearning.fromNameplate(NAMEPLATE, EXCHANGER));
        RatedConditions rated = new RatedConditions(1e6, 0.024, 0.024, 30);
        Covariance u = Covariance.independent(1.4e-4, 1.4e-4, 0.14, 0.13, 0.12, 0.13, 0.001, 0.001);
        Random random = new Random(77);
        int figures = 0;
        for (int k = 0; k < 20_000; k++) {
            ExchangerState s = spoilt(random);
            Computed<Estimate> ua = EXCHANGER.reconcile(s, u).flatMap(EXCHANGER::conductanceWPerK);
            Computed<FoulingEstimate> fouling = model.fouling(s, NOISE);
            Computed<Estimate> approach = fouling.flatMap(f -> rated.approachK(model, f));
            Computed<Estimate> duty = fouling.flatMap(f -> rated.largestDutyW(model, f, 4));
            figures += ua.isAvailable() ? 1 : 0;
            assertPositive(s, ua);
            assertPositive(s, approach);
            assertPositive(s, duty);
            fouling.map(f ->
                    assertThat(f.resistanceKPerW().value()).as(s.toString()).isFinite());
        }
        assertThat(figures).as("not everything is refused").isBetween(2_000, 15_000);
    }

    private static void assertPositive(ExchangerState s, Computed<Estimate> figure) {
        figure.map(e -> assertThat(e.value()).as(s.toString()).isPositive().isFinite());
    }

    /** Facility temperatures and flows that no site has, asked of a healthy unit. */
    @Test
    void strangeConditionsGiveReasonsOrFiniteFigures() {
        CleanModel model = valueOf(CleanLearning.fromNameplate(NAMEPLATE, EXCHANGER));
        FoulingEstimate fouling = valueOf(
                model.fouling(valueOf(new RatedConditions(1e6, 0.024, 0.024, 30).stateAt(EXCHANGER, 4)), NOISE));
        for (double a : STRANGE) {
            for (double b : STRANGE) {
                for (RatedConditions c : new RatedConditions[] {
                    new RatedConditions(a, b, 0.024, 30),
                    new RatedConditions(a, 0.024, b, 30),
                    new RatedConditions(1e6, 0.024, a, b),
                    new RatedConditions(a, 0.024, 0.024, b)
                }) {
                    c.approachK(model, fouling).map(e -> assertThat(e.value()).isFinite());
                    c.largestDutyW(model, fouling, 4)
                            .map(e -> assertThat(e.value()).isFinite());
                }
            }
        }
    }
}
