package io.loopwarden.inventory;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class BurstTestTest {

    private static final double NOISE_L = 0.3;
    private static final double LIMIT_Z = 6;

    private static double[] calm(long seed, int seconds) {
        Random random = new Random(seed);
        return random.doubles(seconds, 0, 1)
                .map(x -> 90 + NOISE_L * random.nextGaussian())
                .toArray();
    }

    private static BurstTest.Result look(double[] litres) {
        BurstTest test = new BurstTest();
        for (int s = 0; s < litres.length; s++) {
            test.accept(1000 + s, litres[s]);
        }
        return test.look(1000 + litres.length - 1, 0, NOISE_L);
    }

    @Test
    void aRampIsFoundWithItsRate() {
        double[] litres = calm(5, 80);
        for (int s = 70; s < 80; s++) {
            litres[s] -= 0.3 * (s - 69);
        }
        BurstTest.Result r = look(litres);
        assertThat(r.z()).isGreaterThan(LIMIT_Z);
        assertThat(r.rateLPerS()).isCloseTo(0.3, within(3 * r.rateUncertainty()));
        assertThat(r.ageS()).isBetween(8.0, 13.0);
    }

    @Test
    void aSpikeOfTwoIsNoLoss() {
        double[] litres = calm(6, 80);
        litres[78] -= 4;
        litres[79] -= 6;
        assertThat(look(litres).z()).isLessThan(LIMIT_Z);
    }

    @Test
    void aJumpFitsAJumpBetter() {
        double[] litres = calm(7, 80);
        for (int s = 70; s < 80; s++) {
            litres[s] -= 2.2;
        }
        BurstTest.Result r = look(litres);
        assertThat(0.5 * r.stepZ() * r.stepZ()).isGreaterThan(0.5 * r.z() * r.z() + 3);
    }

    @Test
    void noiseThatGrewIsNoLoss() {
        for (int seed = 0; seed < 200; seed++) {
            Random random = new Random(seed);
            double[] litres = calm(seed, 80);
            for (int s = 72; s < 80; s++) {
                litres[s] += 8 * NOISE_L * random.nextGaussian();
            }
            assertThat(look(litres).z()).as("seed %d", seed).isLessThan(LIMIT_Z);
        }
    }

    @Test
    void orderDoesNotMatter() {
        double[] litres = calm(9, 80);
        List<Integer> order = new ArrayList<>();
        for (int s = 0; s < 80; s++) {
            order.add(s);
        }
        Collections.shuffle(order, new Random(4));
        BurstTest shuffled = new BurstTest();
        order.forEach(s -> shuffled.accept(1000 + s, litres[s]));
        assertThat(shuffled.look(1079, 0, NOISE_L)).isEqualTo(look(litres));
    }
}
