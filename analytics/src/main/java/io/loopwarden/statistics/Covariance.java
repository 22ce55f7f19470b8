package io.loopwarden.statistics;

import java.util.Arrays;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/** Variances and covariances of several quantities, symmetric, in the squares of their units. */
public final class Covariance {

    /** Share of a variance below which rounding is all that is left of it. */
    private static final double DEPENDENT = 1e-12;

    private final double[][] entries;

    private Covariance(double[][] entries) {
        this.entries = entries;
    }

    /** Independent quantities with these standard uncertainties. */
    public static Covariance independent(double... standardUncertainties) {
        int n = standardUncertainties.length;
        double[][] entries = new double[n][n];
        for (int i = 0; i < n; i++) {
            double u = standardUncertainties[i];
            if (!(u >= 0) || Double.isInfinite(u)) {
                throw new IllegalArgumentException("standard uncertainty [" + i + "] is " + u + ", must be >= 0");
            }
            entries[i][i] = u * u;
        }
        return new Covariance(entries);
    }

    /** From a square table that is symmetric but for rounding. */
    public static Covariance of(double[][] entries) {
        return of(MatrixUtils.createRealMatrix(entries));
    }

    static Covariance of(RealMatrix matrix) {
        int n = matrix.getRowDimension();
        double[][] entries = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                entries[i][j] = (matrix.getEntry(i, j) + matrix.getEntry(j, i)) / 2;
            }
            entries[i][i] = Math.max(0, entries[i][i]);
        }
        return new Covariance(entries);
    }

    public int size() {
        return entries.length;
    }

    public double get(int i, int j) {
        return entries[i][j];
    }

    public double standardUncertainty(int i) {
        return Math.sqrt(entries[i][i]);
    }

    /**
     * Lower triangle L with L·Lᵀ equal to this (Cholesky), so that L times independent normal values is one draw. Quantities that
     * are certain, or follow from earlier ones, get no freedom of their own.
     */
    public double[][] factor() {
        int n = entries.length;
        double[][] l = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double rest = entries[i][j];
                for (int k = 0; k < j; k++) {
                    rest -= l[i][k] * l[j][k];
                }
                if (i == j) {
                    l[i][i] = rest > DEPENDENT * entries[i][i] ? Math.sqrt(rest) : 0;
                } else {
                    l[i][j] = l[j][j] > 0 ? rest / l[j][j] : 0;
                }
            }
        }
        return l;
    }

    /** Variance of a quantity with these sensitivities, gᵀ V g (JCGM 100:2008 equation 13). */
    public double variance(double[] sensitivities) {
        return Math.max(0, covariance(sensitivities, sensitivities));
    }

    /** Covariance of two quantities with these sensitivities. */
    public double covariance(double[] one, double[] other) {
        if (one.length != size() || other.length != size()) {
            throw new IllegalArgumentException(
                    one.length + " and " + other.length + " sensitivities for " + size() + " quantities");
        }
        double sum = 0;
        for (int i = 0; i < size(); i++) {
            double row = 0;
            for (int j = 0; j < size(); j++) {
                row += entries[i][j] * other[j];
            }
            sum += one[i] * row;
        }
        return sum;
    }

    RealMatrix matrix() {
        return MatrixUtils.createRealMatrix(entries);
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Covariance that && Arrays.deepEquals(entries, that.entries);
    }

    @Override
    public int hashCode() {
        return Arrays.deepHashCode(entries);
    }

    @Override
    public String toString() {
        return "Covariance" + Arrays.deepToString(entries);
    }
}
