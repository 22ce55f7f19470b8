package io.loopwarden.inventory;

/** Amounts and rates of coolant as people read them. */
final class Litres {

    private Litres() {}

    static String of(double litres) {
        return number(litres) + " L";
    }

    static String perHour(double litresPerHour) {
        return number(litresPerHour) + " L/h";
    }

    static String hours(double hours) {
        if (hours < 1.5) {
            return Math.round(60 * hours) + " min";
        }
        return hours < 72 ? number(hours) + " h" : Math.round(hours / 24) + " days";
    }

    static String percent(double ratio) {
        double percent = 100 * ratio;
        return percent > 0 && percent < 0.1 ? "less than 0.1 %" : number(percent) + " %";
    }

    /** Two to three significant digits. */
    static String number(double x) {
        double size = Math.abs(x);
        if (size >= 100) {
            return Long.toString(Math.round(x));
        }
        double scale = size >= 10 ? 10 : 100;
        double rounded = Math.round(x * scale) / scale;
        return rounded == Math.rint(rounded) ? Long.toString((long) rounded) : Double.toString(rounded);
    }
}
