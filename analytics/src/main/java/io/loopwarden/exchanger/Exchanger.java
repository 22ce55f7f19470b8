package io.loopwarden.exchanger;

import io.loopwarden.fleet.SensorClass;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Covariance;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.Reconciliation;
import io.loopwarden.statistics.Reconciliation.Residual;
import java.util.Objects;

/** A counterflow exchanger (or a bank in parallel, taken as one) between two streams, and what its state tells. */
public record Exchanger(Stream hot, Stream cold) {

    public Exchanger {
        Objects.requireNonNull(hot, "hot");
        Objects.requireNonNull(cold, "cold");
    }

    /** A figure and its derivatives to the quantities of {@link ExchangerState#QUANTITIES}. */
    record Sensitive(double value, double[] gradient) {

        Estimate estimate(Covariance covariance) {
            return new Estimate(value, Math.sqrt(covariance.variance(gradient)));
        }
    }

    /** A state that closes the heat balance, with the covariance that closing it leaves. */
    public record Reconciled(ExchangerState state, Reconciliation reconciliation) {

        public Covariance covariance() {
            return reconciliation.covariance();
        }

        private double hotCapacityFactor() {
            return reconciliation.values().get(ExchangerState.HOT_CAPACITY);
        }
    }

    /** Uncertainty of a measured state from the class of the sensors and the errors of the coolants' properties. */
    public Covariance uncertainty(ExchangerState s, SensorClass sensors) {
        return Covariance.independent(
                s.hotFlowM3PerS() * sensors.flowStandardUncertaintyRatio(),
                s.coldFlowM3PerS() * sensors.flowStandardUncertaintyRatio(),
                sensors.temperatureStandardUncertaintyK(s.hotInletC()),
                sensors.temperatureStandardUncertaintyK(s.hotOutletC()),
                sensors.temperatureStandardUncertaintyK(s.coldInletC()),
                sensors.temperatureStandardUncertaintyK(s.coldOutletC()),
                hot.coolant().uncertaintyAt(s.hotMeanC()).heatCapacityRatio(),
                cold.coolant().uncertaintyAt(s.coldMeanC()).heatCapacityRatio());
    }

    /** Heat the TCS gives off, W. */
    public Computed<Estimate> hotDutyW(ExchangerState state, Covariance covariance) {
        return hotDuty(state, 1).map(q -> q.estimate(covariance));
    }

    /** Heat the FWS takes up, W. */
    public Computed<Estimate> coldDutyW(ExchangerState state, Covariance covariance) {
        return coldDuty(state, 1).map(q -> q.estimate(covariance));
    }

    /** The state nearest to the measured one in which both sides carry the same heat. */
    public Computed<Reconciled> reconcile(ExchangerState measured, Covariance uncertainty) {
        return measured.plausible()
                .flatMap(state -> imbalance(state, 1, 1)
                        .flatMap(ok -> Reconciliation.of(state.toVector(), uncertainty, this::balance)))
                .map(r -> new Reconciled(ExchangerState.of(r.values()), r));
    }

    /** Heat that both sides carry in a reconciled state, W. */
    public Computed<Estimate> dutyW(Reconciled r) {
        return hotDuty(r.state(), r.hotCapacityFactor()).map(q -> q.estimate(r.covariance()));
    }

    /** UA in W/K from the duty of the TCS side and all four temperatures; it needs no FWS flow. */
    public Computed<Estimate> conductanceWPerK(ExchangerState state, Covariance covariance) {
        return conductance(state, 1).map(ua -> ua.estimate(covariance));
    }

    /** UA in W/K of a reconciled state, in which either side gives the same. */
    public Computed<Estimate> conductanceWPerK(Reconciled r) {
        return conductance(r.state(), r.hotCapacityFactor()).map(ua -> ua.estimate(r.covariance()));
    }

    /** Capacity rate of the TCS stream between its two temperatures. */
    Computed<Double> hotRateWPerK(ExchangerState s) {
        double meterC = hot.meterTemperatureC(s.hotInletC(), s.hotOutletC());
        return HeatBalance.capacityRateWPerK(hot.coolant(), s.hotFlowM3PerS(), meterC, s.hotInletC(), s.hotOutletC());
    }

    /** Capacity rate of the FWS stream between its two temperatures. */
    Computed<Double> coldRateWPerK(ExchangerState s) {
        double meterC = cold.meterTemperatureC(s.coldInletC(), s.coldOutletC());
        return HeatBalance.capacityRateWPerK(
                cold.coolant(), s.coldFlowM3PerS(), meterC, s.coldOutletC(), s.coldInletC());
    }

    Computed<Sensitive> hotDuty(ExchangerState s, double capacityFactor) {
        double meterC = hot.meterTemperatureC(s.hotInletC(), s.hotOutletC());
        return duty(hot, s.hotFlowM3PerS(), meterC, s.hotInletC(), s.hotOutletC(), capacityFactor)
                .map(d -> {
                    double[] g = new double[ExchangerState.SIZE];
                    g[ExchangerState.HOT_FLOW] = d.perFlow;
                    g[ExchangerState.HOT_INLET] = d.perWarm;
                    g[ExchangerState.HOT_OUTLET] = d.perCool;
                    g[hot.meter() == Stream.Meter.AT_INLET ? ExchangerState.HOT_INLET : ExchangerState.HOT_OUTLET] +=
                            d.perMeter;
                    g[ExchangerState.HOT_CAPACITY] = d.perFactor;
                    return new Sensitive(d.dutyW, g);
                });
    }

    Computed<Sensitive> coldDuty(ExchangerState s, double capacityFactor) {
        double meterC = cold.meterTemperatureC(s.coldInletC(), s.coldOutletC());
        return duty(cold, s.coldFlowM3PerS(), meterC, s.coldOutletC(), s.coldInletC(), capacityFactor)
                .map(d -> {
                    double[] g = new double[ExchangerState.SIZE];
                    g[ExchangerState.COLD_FLOW] = d.perFlow;
                    g[ExchangerState.COLD_OUTLET] = d.perWarm;
                    g[ExchangerState.COLD_INLET] = d.perCool;
                    g[cold.meter() == Stream.Meter.AT_INLET ? ExchangerState.COLD_INLET : ExchangerState.COLD_OUTLET] +=
                            d.perMeter;
                    g[ExchangerState.COLD_CAPACITY] = d.perFactor;
                    return new Sensitive(d.dutyW, g);
                });
    }

    /** Hot duty less cold duty, W. */
    Computed<Sensitive> imbalance(ExchangerState s, double hotFactor, double coldFactor) {
        return hotDuty(s, hotFactor)
                .flatMap(h -> coldDuty(s, coldFactor).map(c -> {
                    double[] g = new double[ExchangerState.SIZE];
                    for (int i = 0; i < g.length; i++) {
                        g[i] = h.gradient()[i] - c.gradient()[i];
                    }
                    return new Sensitive(h.value() - c.value(), g);
                }));
    }

    Computed<Sensitive> conductance(ExchangerState state, double hotCapacityFactor) {
        return state.plausible()
                .flatMap(s -> hotDuty(s, hotCapacityFactor).flatMap(q -> {
                    double warmEndK = s.hotInletC() - s.coldOutletC();
                    double coolEndK = s.hotOutletC() - s.coldInletC();
                    return LogMean.differenceK(warmEndK, coolEndK).map(meanK -> {
                        double ua = q.value() / meanK;
                        double[] g = q.gradient().clone();
                        for (int i = 0; i < g.length; i++) {
                            g[i] /= meanK;
                        }
                        double perWarmEnd = -ua * LogMean.logSlopePerK(warmEndK, coolEndK);
                        double perCoolEnd = -ua * LogMean.logSlopePerK(coolEndK, warmEndK);
                        g[ExchangerState.HOT_INLET] += perWarmEnd;
                        g[ExchangerState.COLD_OUTLET] -= perWarmEnd;
                        g[ExchangerState.HOT_OUTLET] += perCoolEnd;
                        g[ExchangerState.COLD_INLET] -= perCoolEnd;
                        return new Sensitive(ua, g);
                    });
                }));
    }

    private Residual balance(double[] x) {
        ExchangerState s = new ExchangerState(x[0], x[1], x[2], x[3], x[4], x[5]);
        // a step that leaves the range of the properties ends the iteration by way of a value that is not finite
        Sensitive r = imbalance(s, x[ExchangerState.HOT_CAPACITY], x[ExchangerState.COLD_CAPACITY])
                .fold(v -> v, gap -> new Sensitive(Double.NaN, new double[ExchangerState.SIZE]));
        return new Residual(new double[] {r.value()}, new double[][] {r.gradient()});
    }

    private record Duty(
            double dutyW, double perFlow, double perWarm, double perCool, double perMeter, double perFactor) {}

    private static Computed<Duty> duty(
            Stream stream, double flow, double meterC, double warmC, double coolC, double factor) {
        return HeatBalance.dutyW(stream.coolant(), flow, meterC, warmC, coolC)
                .flatMap(tabulated -> stream.coolant()
                        .stateAt(meterC)
                        .flatMap(meter -> stream.coolant()
                                .stateAt(warmC)
                                .flatMap(warm -> stream.coolant().stateAt(coolC).map(cool -> {
                                    double q = tabulated * factor;
                                    double massFlow = meter.densityKgPerM3() * flow * factor;
                                    return new Duty(
                                            q,
                                            q / flow,
                                            massFlow * warm.specificHeatJPerKgK(),
                                            -massFlow * cool.specificHeatJPerKgK(),
                                            -meter.expansionPerK() * q,
                                            tabulated);
                                }))));
    }
}
