package io.loopwarden.indicator;

import io.loopwarden.statistics.Estimate;

/** What holds for filters and pumps of this kind before anything is learnt of the one unit. */
final class HydraulicPriors {

    /** Share of a filter's differential pressure at rated flow that is viscous; a screen has almost none, a fine element up to 0.7. */
    static final Estimate VISCOUS_SHARE = new Estimate(0.4, 0.15);

    /** Pressure without flow over pressure at rated flow of single-stage centrifugal pumps: 1.2 to 1.4. */
    static final Estimate SHUT_OFF_RATIO = new Estimate(1.3, 0.06);

    /** What a unit loses inside at rated flow over what it has available for the racks; where no pump's pressure is measured. */
    static final Estimate INTERNAL_LOSS_RATIO = new Estimate(0.45, 0.12);

    /** Relative speed as drives report it. */
    static final double SPEED_UNCERTAINTY = 0.002;

    /** Electric power as drives report it, of reading. */
    static final double POWER_UNCERTAINTY_RATIO = 0.015;

    /** Below this share of rated flow pressures are lost in their uncertainty. */
    static final double LEAST_FLOW_RATIO = 0.3;

    /** What a filter's differential pressure errs by beside its constant offset, two-minute mean. */
    static final double FILTER_NOISE_PA = 60;

    private HydraulicPriors() {}
}
