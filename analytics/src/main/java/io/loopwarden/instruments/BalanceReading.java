package io.loopwarden.instruments;

import java.util.Optional;

/**
 * What sensors say of each other at one time.
 *
 * @param supplyPairK TCS supply temperature minus its redundant one
 * @param returnPairK the same of the return
 * @param flowPairRatio TCS supply flow over return flow as masses, minus 1
 * @param balanceK heat balance of a steady window: rise of the TCS minus what the FWS takes up, over the TCS capacity rate
 * @param riseK rise of the TCS
 * @param rateRatio FWS over TCS capacity rate
 */
public record BalanceReading(
        double epochS,
        Optional<Double> supplyPairK,
        Optional<Double> returnPairK,
        Optional<Double> flowPairRatio,
        Optional<Double> balanceK,
        double riseK,
        double rateRatio) {}
