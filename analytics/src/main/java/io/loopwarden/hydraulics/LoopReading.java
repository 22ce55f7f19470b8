package io.loopwarden.hydraulics;

import java.util.Map;
import java.util.Optional;

/**
 * What a unit's loops showed over two minutes, as the histories of its parts take it.
 *
 * @param loadRatio heat moved over rated duty; empty where it is not known
 * @param tcs flow through the filters; empty where the flow is not known or too small
 * @param fws the same of the facility strainer
 * @param filterPa differential pressure of each filter by number
 * @param rackPa differential pressure over the racks
 * @param pump the one pump that runs alone
 */
public record LoopReading(
        double epochS,
        Optional<Double> loadRatio,
        Optional<BranchFlow> tcs,
        Optional<BranchFlow> fws,
        Map<Integer, Double> filterPa,
        Optional<Double> strainerPa,
        Optional<Double> rackPa,
        Optional<PumpReading> pump,
        Optional<ValveReading> valve) {

    public LoopReading {
        filterPa = Map.copyOf(filterPa);
    }

    /**
     * A flow relative to the reference state: rated flow, coolant of 40 °C.
     *
     * @param viscousRatio μ·Q over that of the reference
     * @param inertialRatio ρ·Q² over that of the reference
     */
    public record BranchFlow(double viscousRatio, double inertialRatio) {}

    /**
     * A pump that runs alone.
     *
     * @param flowRatio over rated flow of one pump
     * @param powerW empty where no power is measured
     * @param scatterRatio standard deviation of its differential pressure within the two minutes, over the mean
     * @param suctionHeadM head above vapour pressure at the suction; empty where the pressure is not known
     */
    public record PumpReading(
            int number,
            double speedRatio,
            double flowRatio,
            double dpPa,
            Optional<Double> powerW,
            double scatterRatio,
            Optional<Double> suctionHeadM) {}

    /**
     * The facility valve.
     *
     * @param resistanceRatio facility differential pressure over flow squared, relative to design and rated flow
     */
    public record ValveReading(double position, double resistanceRatio) {}
}
