package io.loopwarden.statistics;

/**
 * A change of unknown size that began at an unknown time, looked for in the innovations of a Kalman filter: the generalised likelihood
 * ratio of Willsky and Jones (IEEE Trans. Automatic Control 21, 1976), which is Page's cumulative sum, as a maximum over onsets, where
 * the filter does not learn. For every onset it is known how much of the change the filter has taken for its own state already.
 * Onsets are kept ever more sparsely with age, so memory is bounded. For one thread.
 */
public final class OnsetTest {

    /** How a change goes on after its onset. */
    public enum Shape {
        /** Grows with the driver: a loss that goes on. */
        RAMP,
        /** Stays as it is: a jump. */
        STEP
    }

    private static final int DENSE = 10;
    /** The scatter about a change is believed to be the filter's own as firmly as so many observations would say. */
    private static final double OWN_SCATTER = 4;

    private final Shape shape;
    private final int states;
    private final int capacity;
    private final double[] age;
    private final double[] displacement;
    private final double[] taken;
    private final double[] pull;
    private final double[] information;
    private final double[] squares;
    private final int[] rows;
    private int count;

    /**
     * @param states of the filter
     * @param capacity onsets that are kept
     */
    public OnsetTest(Shape shape, int states, int capacity) {
        if (states < 1 || capacity < 2 * DENSE) {
            throw new IllegalArgumentException(
                    states + " states and " + capacity + " onsets; at least 1 and " + 2 * DENSE);
        }
        this.shape = shape;
        this.states = states;
        this.capacity = capacity;
        age = new double[capacity];
        displacement = new double[capacity];
        taken = new double[capacity * states];
        pull = new double[capacity];
        information = new double[capacity];
        squares = new double[capacity];
        rows = new int[capacity];
    }

    /** Time without an observation: a change that has begun goes on. */
    public void pass(double time, double driver) {
        for (int i = 0; i < count; i++) {
            age[i] += time;
            displacement[i] += shape == Shape.RAMP ? driver : 0;
        }
    }

    /**
     * Takes an observation, the mean over a span.
     *
     * @param time length of the span
     * @param driver what a change of size 1 adds over the span
     * @param sensitivities of the observation to the filter's states
     * @param gain of the filter for this observation
     * @param innovation what was observed beyond what the filter expected; a change of positive size makes it negative
     * @param variance of the innovation
     */
    public void accept(
            double time, double driver, double[] sensitivities, double[] gain, double innovation, double variance) {
        begin();
        for (int i = 0; i < count; i++) {
            double before = displacement[i];
            double now = shape == Shape.STEP ? 1 : before + driver;
            // the mean over the span stands for its middle
            double seen = shape == Shape.STEP && rows[i] > 0 ? 1 : 0.5 * (before + now);
            int m = i * states;
            double shown = seen;
            for (int s = 0; s < states; s++) {
                shown -= sensitivities[s] * taken[m + s];
            }
            for (int s = 0; s < states; s++) {
                taken[m + s] += gain[s] * shown;
            }
            pull[i] -= innovation * shown / variance;
            information[i] += shown * shown / variance;
            squares[i] += innovation * innovation / variance;
            displacement[i] = now;
            age[i] += time;
            rows[i]++;
        }
    }

    private void begin() {
        if (count == capacity) {
            drop(leastMissed());
        }
        age[count] = 0;
        displacement[count] = 0;
        pull[count] = 0;
        information[count] = 0;
        squares[count] = 0;
        rows[count] = 0;
        for (int s = 0; s < states; s++) {
            taken[count * states + s] = 0;
        }
        count++;
    }

    /** The onset whose neighbours are nearest to each other, relative to age; oldest first in the arrays. */
    private int leastMissed() {
        int least = 1;
        double best = Double.POSITIVE_INFINITY;
        for (int i = 1; i < count - DENSE; i++) {
            double spread = (age[i - 1] - age[i + 1]) / age[i];
            if (spread < best) {
                best = spread;
                least = i;
            }
        }
        return least;
    }

    private void drop(int i) {
        int after = count - i - 1;
        System.arraycopy(age, i + 1, age, i, after);
        System.arraycopy(displacement, i + 1, displacement, i, after);
        System.arraycopy(taken, (i + 1) * states, taken, i * states, after * states);
        System.arraycopy(pull, i + 1, pull, i, after);
        System.arraycopy(information, i + 1, information, i, after);
        System.arraycopy(squares, i + 1, squares, i, after);
        System.arraycopy(rows, i + 1, rows, i, after);
        count--;
    }

    /** Onsets that are older are given up. */
    public void forgetOlderThan(double most) {
        while (count > 0 && age[0] > most) {
            drop(0);
        }
    }

    public void clear() {
        count = 0;
    }

    /** Onsets that are kept, oldest first. */
    public int count() {
        return count;
    }

    public double age(int onset) {
        return age[onset];
    }

    /** Observations since that onset. */
    public int rows(int onset) {
        return rows[onset];
    }

    /** Time that an onset stands for: up to halfway to its neighbours. */
    public double span(int onset) {
        double older = onset == 0 ? age[0] : 0.5 * (age[onset - 1] + age[onset]);
        double younger = onset == count - 1 ? 0 : 0.5 * (age[onset] + age[onset + 1]);
        return older - younger;
    }

    /** Size of the change by least squares if it began there, 0 where nothing is known of it. */
    public double size(int onset) {
        return information[onset] > 0 ? pull[onset] / information[onset] : 0;
    }

    public double sizeUncertainty(int onset) {
        return information[onset] > 0 ? Math.sqrt(scatter(onset) / information[onset]) : Double.POSITIVE_INFINITY;
    }

    /** Size over its uncertainty: standard normal where there is no change. */
    public double standardised(int onset) {
        return information[onset] > 0 ? pull[onset] / Math.sqrt(scatter(onset) * information[onset]) : 0;
    }

    /** Variance about the change that fits best, relative to the filter's own; at least 1, so that noise that grew is no change. */
    private double scatter(int onset) {
        double rest = squares[onset] - pull[onset] * pull[onset] / information[onset];
        return Math.max(1, (rest + OWN_SCATTER) / (rows[onset] - 1 + OWN_SCATTER));
    }
}
