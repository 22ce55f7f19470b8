package io.loopwarden.statistics;

import java.util.Arrays;
import java.util.Random;

/** Growth on a straight line, Theil and Sen's, refitted to bootstrapped series. */
final class LineGrowth implements Growth {

    private static final int PARAMETERS = 3;

    private final double[] x;
    private final double[] y;
    private final double limit;
    private final BlockBootstrap bootstrap;
    private final double criterion;

    private LineGrowth(double[] x, double[] y, Crossing.Question question, TheilSen robust, LineFit line) {
        this.x = x;
        this.y = y;
        this.limit = question.limit();
        double[] fitted = Arrays.stream(x).map(robust::at).toArray();
        this.bootstrap = new BlockBootstrap(y, fitted, 2, question.sharedErrors());
        this.criterion =
                Growth.criterion(x.length * Math.log(line.residualSumOfSquares() / x.length), x.length, PARAMETERS);
    }

    static Computed<Growth> of(double[] x, double[] y, Crossing.Question question) {
        return LineFit.of(x, y)
                .flatMap(line -> TheilSen.of(x, y, 0.95).map(robust -> new LineGrowth(x, y, question, robust, line)));
    }

    @Override
    public double criterion() {
        return criterion;
    }

    @Override
    public double[] crossings(int draws, Random random) {
        double now = x[x.length - 1];
        double[] crossings = new double[draws];
        double[] sample = new double[y.length];
        double[] work = new double[x.length * (x.length - 1) / 2];
        for (int b = 0; b < draws; b++) {
            bootstrap.draw(sample, random);
            double slope = TheilSen.slope(x, sample, work);
            crossings[b] = crossing(slope, TheilSen.intercept(x, sample, slope), now);
        }
        return crossings;
    }

    /** A line that is already over the limit crossed it at the latest now; one that falls never will. */
    private double crossing(double slope, double intercept, double now) {
        if (slope > 0) {
            return (limit - intercept) / slope;
        }
        return intercept + slope * now >= limit ? now : Double.POSITIVE_INFINITY;
    }
}
