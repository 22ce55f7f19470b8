package io.loopwarden.inventory;

import io.loopwarden.fluid.Coolant;
import io.loopwarden.fluid.FluidState;
import io.loopwarden.statistics.Computed;

/** Volumes of coolant at changing temperature and pressure. */
public final class Expansion {

    private Expansion() {}

    /**
     * What a reservoir takes up when a full loop warms: V·(ρ(from)/ρ(to) − 1), the pipes' own growth left out.
     *
     * @param loopM3 volume of the loop
     */
    public static Computed<Double> volumeM3(Coolant coolant, double loopM3, double fromC, double toC) {
        return coolant.stateAt(fromC).flatMap(from -> coolant.stateAt(toC).map(to -> between(loopM3, from, to)));
    }

    private static double between(double loopM3, FluidState from, FluidState to) {
        return loopM3 * (from.densityKgPerM3() / to.densityKgPerM3() - 1);
    }

    /**
     * Absolute pressure of a gas cushion after its volume changed, isothermal: p·V is constant (Boyle).
     *
     * @param lostM3 liquid that left, so that the gas has more room
     */
    public static double cushionPressurePa(double absolutePa, double gasM3, double lostM3) {
        return absolutePa * gasM3 / (gasM3 + lostM3);
    }

    /** Liquid that left a vessel whose gas cushion fell from one absolute pressure to another. */
    public static double lostFromCushionM3(double gasM3, double fromAbsolutePa, double toAbsolutePa) {
        return gasM3 * (fromAbsolutePa / toAbsolutePa - 1);
    }
}
