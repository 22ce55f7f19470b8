package io.loopwarden.indicator;

/** Numbers as people read them; no locale, no format strings, since sentences are made at every evaluation. */
final class Words {

    private static final long[] POWERS_OF_TEN = {1, 10, 100, 1000, 10_000};
    private static final double LARGEST_FIXED = 1e12;

    private Words() {}

    /** Rounded half up to at most four decimals, trailing zeros kept. */
    static String fixed(double value, int decimals) {
        if (!(Math.abs(value) < LARGEST_FIXED)) {
            return Double.toString(Math.max(-Double.MAX_VALUE, Math.min(value, Double.MAX_VALUE)));
        }
        long scale = POWERS_OF_TEN[decimals];
        long scaled = Math.round(Math.abs(value) * scale);
        StringBuilder text = new StringBuilder(16);
        if (value < 0 && scaled != 0) {
            text.append('−');
        }
        text.append(scaled / scale);
        if (decimals > 0) {
            String fraction = Long.toString(scaled % scale);
            text.append('.');
            for (int i = fraction.length(); i < decimals; i++) {
                text.append('0');
            }
            text.append(fraction);
        }
        return text.toString();
    }

    static String percent(double ratio, int decimals) {
        return fixed(100 * ratio, decimals) + " %";
    }

    /** Megawatts from 1 MW on, kilowatts below. */
    static String watts(double valueW) {
        return Math.abs(valueW) >= 999_500 ? fixed(valueW / 1e6, 2) + " MW" : fixed(valueW / 1e3, 0) + " kW";
    }

    static String watts(double valueW, double bandW) {
        return Math.abs(valueW) >= 999_500
                ? fixed(valueW / 1e6, 2) + " ± " + fixed(bandW / 1e6, 2) + " MW"
                : fixed(valueW / 1e3, 0) + " ± " + fixed(bandW / 1e3, 0) + " kW";
    }

    static String kilopascals(double pressurePa) {
        return fixed(pressurePa / 1e3, 1) + " kPa";
    }

    static String litresPerSecond(double flowM3PerS) {
        return fixed(1000 * flowM3PerS, 1) + " L/s";
    }

    /** First letter in upper case, to begin a sentence. */
    static String capital(String text) {
        return text.isEmpty() ? text : Character.toUpperCase(text.charAt(0)) + text.substring(1);
    }
}
