package io.loopwarden.store;

/**
 * How a column's values are turned into whole numbers and back, to the bit. A decimal such as 23.417 becomes 23417 with three
 * places where the division gives exactly the same double again; single-precision values are tried as the single-precision
 * quotient. What fits neither is kept as its bits.
 *
 * <p>Codes: 0 no column, 1 whole numbers, 2 bits of doubles, 3 bits of singles, 4 wholes and doubles mixed, 5 to 14 decimals with
 * 0 to 9 places, 15 to 24 single-precision decimals with 0 to 9 places.
 */
final class NumberForm {

    static final int ABSENT = 0;
    static final int WHOLE = 1;
    static final int DOUBLE_BITS = 2;
    static final int SINGLE_BITS = 3;
    static final int MIXED = 4;
    static final int DECIMAL = 5;
    static final int SINGLE_DECIMAL = 15;
    static final int PLACES = 9;
    static final int LAST = SINGLE_DECIMAL + PLACES;

    private static final double EXACT_BELOW = 0x1p53;
    private static final double[] TEN_TO = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};

    private NumberForm() {}

    /** The form that holds all the doubles whose bits are given, and their whole numbers in {@code into}. */
    static int ofDoubles(long[] bits, int count, long[] into) {
        int places = places(bits, count, into, false);
        if (places >= 0) {
            return DECIMAL + places;
        }
        if (allSingle(bits, count)) {
            places = places(bits, count, into, true);
            if (places >= 0) {
                return SINGLE_DECIMAL + places;
            }
            for (int i = 0; i < count; i++) {
                into[i] = Float.floatToRawIntBits((float) Double.longBitsToDouble(bits[i]));
            }
            return SINGLE_BITS;
        }
        System.arraycopy(bits, 0, into, 0, count);
        return DOUBLE_BITS;
    }

    /** The fewest places that hold all of them, or -1. More places than a value needs still give the same double. */
    private static int places(long[] bits, int count, long[] into, boolean single) {
        int places = 0;
        int settled = 0;
        while (settled < count) {
            double value = Double.longBitsToDouble(bits[settled]);
            double scaled = value * TEN_TO[places];
            long whole = (long) Math.rint(scaled);
            boolean exact = Math.abs(scaled) < EXACT_BELOW
                    && Double.doubleToRawLongBits(decimal(whole, places, single)) == bits[settled];
            if (exact) {
                into[settled++] = whole;
            } else if (places == PLACES) {
                return -1;
            } else {
                places++;
                settled = 0;
            }
        }
        return places;
    }

    private static boolean allSingle(long[] bits, int count) {
        for (int i = 0; i < count; i++) {
            double value = Double.longBitsToDouble(bits[i]);
            if (Double.doubleToRawLongBits((float) value) != bits[i]) {
                return false;
            }
        }
        return true;
    }

    private static double decimal(long whole, int places, boolean single) {
        double quotient = whole / TEN_TO[places];
        return single ? (float) quotient : quotient;
    }

    /** Turns whole numbers in place into the bits of the doubles they stand for; whole numbers stay. */
    static void toBits(int form, long[] values, int from, int count) {
        if (form == WHOLE || form == DOUBLE_BITS || form == MIXED) {
            return;
        }
        for (int i = from; i < from + count; i++) {
            values[i] = Double.doubleToRawLongBits(value(form, values[i]));
        }
    }

    private static double value(int form, long whole) {
        if (form == SINGLE_BITS) {
            return Float.intBitsToFloat((int) whole);
        }
        return form >= SINGLE_DECIMAL
                ? decimal(whole, form - SINGLE_DECIMAL, true)
                : decimal(whole, form - DECIMAL, false);
    }
}
