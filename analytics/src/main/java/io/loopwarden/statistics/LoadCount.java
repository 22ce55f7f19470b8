package io.loopwarden.statistics;

/**
 * Hägglund's detector of oscillating control loops (Control Engineering Practice 3, 1995, 1543–1551): a control error whose integral
 * between two zero crossings exceeds a limit is a load; a loop that shows many loads within its supervision time oscillates.
 *
 * @param loads half periods whose integral exceeded the limit
 * @param largest integral of the absolute error over a half period, error's unit times s
 */
public record LoadCount(int loads, double largest) {

    /** More loads than this within the supervision time are an oscillation. */
    public static final int OSCILLATION = 10;

    /** Supervision time in integral times of the controller. */
    public static final double SUPERVISION_INTEGRAL_TIMES = 50;

    /**
     * The limit 2·a/ω with ω = 2π/T_i.
     *
     * @param amplitude a, smallest amplitude that counts, about 1 % of the range
     * @param integralS T_i, the controller's integral time
     */
    public static double limit(double amplitude, double integralS) {
        return amplitude * integralS / Math.PI;
    }

    /** Loads in an evenly sampled control error; trapezoids, the crossing itself by linear interpolation. */
    public static LoadCount of(double[] error, double stepS, double limit) {
        int loads = 0;
        double largest = 0;
        double integral = 0;
        for (int i = 1; i < error.length; i++) {
            double before = error[i - 1];
            double after = error[i];
            if (before * after >= 0) {
                integral += stepS * Math.abs(before + after) / 2;
                continue;
            }
            double share = before / (before - after);
            integral += stepS * share * Math.abs(before) / 2;
            largest = Math.max(largest, integral);
            loads += integral > limit ? 1 : 0;
            integral = stepS * (1 - share) * Math.abs(after) / 2;
        }
        largest = Math.max(largest, integral);
        return new LoadCount(loads + (integral > limit ? 1 : 0), largest);
    }

    public boolean oscillates() {
        return loads > OSCILLATION;
    }
}
