package io.loopwarden.virtual.plant;

import io.loopwarden.fleet.CoolantSpec;

/** The plate exchangers of a unit in parallel, on both sides; each with its own share of flow and its own deposits. */
final class ExchangerBank {

    private static final double FILM_EXPONENT = 0.68;
    private static final double WALL_M2K_PER_W = 3.2e-5;
    /** Deposits narrow the channel: relative growth of the FWS resistance for each m2·K/W. */
    private static final double NARROWING = 6000;

    private final PlantParameters parameters;
    private final Coolant tcs;
    private final Coolant fws;
    private final PlateExchanger[] exchangers;
    private final double[] tcsShare;
    private final double[] fwsShare;
    private final double[] overallWPerM2K;
    private final double[] cleanWPerM2K;
    private final double filmReference;
    private double tcsMeanC;
    private double tcsHeat;
    private double fwsHeat;
    private double tcsFilm;
    private double fwsFilm;
    private double tcsOutC;
    private double fwsOutC;

    ExchangerBank(PlantParameters parameters, Coolant tcs, Coolant fws, double temperatureC) {
        this.parameters = parameters;
        this.tcs = tcs;
        this.fws = fws;
        int count = parameters.nameplate().exchangers();
        exchangers = new PlateExchanger[count];
        for (int i = 0; i < count; i++) {
            exchangers[i] = new PlateExchanger(parameters.plateAreaM2() / count, temperatureC);
        }
        tcsShare = new double[count];
        fwsShare = new double[count];
        overallWPerM2K = new double[count];
        cleanWPerM2K = new double[count];
        filmReference = film(new Coolant(CoolantSpec.WATER), 40);
        prepare();
    }

    /** How conductance of a film goes with the fluid, from Nu ∝ Re^m · Pr^(1/3) at equal velocity. */
    private static double film(Coolant fluid, double t) {
        double k = fluid.conductivityWPerMK(t);
        return Math.cbrt(k * k * fluid.heatCapacityJPerKgK(t))
                * Math.pow(fluid.densityKgPerM3(t), FILM_EXPONENT)
                * Math.pow(fluid.viscosityPaS(t), 1.0 / 3 - FILM_EXPONENT);
    }

    /** Flow shares on both sides; parallel paths with square-law resistance split in proportion to 1/√resistance. */
    void split(Condition condition) {
        double tcsSum = 0;
        double fwsSum = 0;
        for (int i = 0; i < exchangers.length; i++) {
            tcsShare[i] = condition.flowShare[i];
            fwsShare[i] = 1 / Math.sqrt(1 + NARROWING * condition.foulingM2KPerW[i]);
            tcsSum += tcsShare[i];
            fwsSum += fwsShare[i];
        }
        for (int i = 0; i < exchangers.length; i++) {
            tcsShare[i] /= tcsSum;
            fwsShare[i] /= fwsSum;
        }
    }

    /** Resistance of the FWS side relative to clean; {@link #split} first. */
    double fwsResistanceRatio(Condition condition) {
        double fastest = fwsShare[0] * exchangers.length;
        return (1 + NARROWING * condition.foulingM2KPerW[0]) * fastest * fastest;
    }

    /** Fixes fluid properties at the temperatures the bank has now; {@link #solve} uses them until the next call. */
    void prepare() {
        prepare(exchangers[0].hotMeanC(), exchangers[0].coldMeanC());
    }

    /** Fixes fluid properties at given mean temperatures. */
    void prepare(double tcsMean, double fwsMean) {
        tcsMeanC = tcsMean;
        tcsHeat = tcs.volumetricHeatJPerM3K(tcsMean);
        fwsHeat = fws.volumetricHeatJPerM3K(fwsMean);
        tcsFilm = parameters.tcsFilmWPerM2K() * film(tcs, tcsMean) / filmReference;
        fwsFilm = parameters.fwsFilmWPerM2K() * film(fws, fwsMean) / filmReference;
    }

    /** Solves the bank without keeping it; {@link #split} and {@link #prepare()} first. */
    void solve(Condition condition, double tcsInC, double fwsInC, double tcsQ, double fwsQ, double dtS) {
        double tcsRatio = Math.max(0.01, tcsQ / parameters.nameplate().ratedTcsFlowM3PerS()) * exchangers.length;
        double fwsRatio = Math.max(0.01, fwsQ / parameters.nameplate().ratedFwsFlowM3PerS()) * exchangers.length;
        // Half of the film's growth over the plate: films grow about 0.8 % per K, mostly by viscosity.
        double slope = Math.max(-0.3, Math.min(0.3, 0.004 * (tcsInC - tcsMeanC)));
        tcsOutC = 0;
        fwsOutC = 0;
        for (int i = 0; i < exchangers.length; i++) {
            double hot = 1 / (tcsFilm * Math.pow(tcsRatio * tcsShare[i], FILM_EXPONENT));
            double cold = 1 / (fwsFilm * Math.pow(fwsRatio * fwsShare[i], FILM_EXPONENT));
            double clean = hot + cold + WALL_M2K_PER_W;
            cleanWPerM2K[i] = 1 / clean;
            overallWPerM2K[i] = 1 / (clean + condition.foulingM2KPerW[i]);
            exchangers[i].solve(
                    tcsInC,
                    fwsInC,
                    tcsHeat * tcsQ * tcsShare[i],
                    fwsHeat * fwsQ * fwsShare[i],
                    tcsHeat,
                    fwsHeat,
                    overallWPerM2K[i],
                    slope,
                    dtS);
            tcsOutC += tcsShare[i] * exchangers[i].hotOutC();
            fwsOutC += fwsShare[i] * exchangers[i].coldOutC();
        }
    }

    void keep() {
        for (PlateExchanger exchanger : exchangers) {
            exchanger.keep();
        }
    }

    double tcsOutC() {
        return tcsOutC;
    }

    double fwsOutC() {
        return fwsOutC;
    }

    double uaWPerK(int exchanger) {
        return overallWPerM2K[exchanger] * exchangers[exchanger].areaM2();
    }

    /** What the conductance would be at these flows without deposits. */
    double cleanUaWPerK(int exchanger) {
        return cleanWPerM2K[exchanger] * exchangers[exchanger].areaM2();
    }

    double tcsShare(int exchanger) {
        return tcsShare[exchanger];
    }

    double fwsShare(int exchanger) {
        return fwsShare[exchanger];
    }

    double tcsHeatJPerM3K() {
        return tcsHeat;
    }

    double fwsHeatJPerM3K() {
        return fwsHeat;
    }

    double tcsMeanC() {
        return tcsMeanC;
    }

    double storedJ() {
        double sum = 0;
        for (PlateExchanger exchanger : exchangers) {
            sum += exchanger.storedJ(tcsHeat, fwsHeat);
        }
        return sum;
    }
}
