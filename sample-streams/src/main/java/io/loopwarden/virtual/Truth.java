package io.loopwarden.virtual;

import java.time.Instant;
import java.util.List;
import java.util.Map;

/**
 * What is true of a unit at one time and no controller shows.
 *
 * @param dutyW heat that the facility water takes away
 * @param uaWPerK conductance of all exchangers together, at the flows of that time
 * @param cleanUaWPerK what it would be at the same flows without deposits
 * @param exchangerUaWPerK the same for each exchanger
 * @param foulingM2KPerW deposits of each exchanger
 * @param filterLoading resistance of each filter element relative to clean
 * @param filterDpAtRatedPa differential pressure of each element at rated flow and 40 °C
 * @param pumpWear share of head lost
 * @param leakM3PerS out of the loop, through a hole between the loops too; negative if facility water comes in
 * @param approachAtRatedK approach at rated duty and rated TCS flow, valve fully open, at today's facility water
 * @param sensorError what each sensor shows beyond the truth, noise and lag apart, by point
 * @param activeFaults kind, target or point, and severity
 */
public record Truth(
        Instant at,
        double rackHeatW,
        double dutyW,
        double tcsSupplyC,
        double tcsReturnC,
        double fwsSupplyC,
        double fwsReturnC,
        double tcsFlowM3PerS,
        double fwsFlowM3PerS,
        double uaWPerK,
        double cleanUaWPerK,
        List<Double> exchangerUaWPerK,
        List<Double> foulingM2KPerW,
        List<Double> filterLoading,
        List<Double> filterDpAtRatedPa,
        List<Double> pumpWear,
        double strainerLoading,
        double leakM3PerS,
        double leakedM3,
        double approachAtRatedK,
        Map<String, Double> sensorError,
        List<String> activeFaults) {}
