package io.loopwarden.virtual.plant;

/**
 * What the rest of the site gives a unit at one time.
 *
 * @param rackHeatW heat of the racks
 * @param rackConductance how far the racks' own valves are open, relative to rated flow at the available head
 * @param fwsSupplyC facility supply temperature
 * @param fwsDpPa facility differential pressure at the unit
 */
public record Surroundings(double rackHeatW, double rackConductance, double fwsSupplyC, double fwsDpPa) {

    /** The same with facility water that is warmer by so much. */
    public Surroundings warmer(double shiftK) {
        return new Surroundings(rackHeatW, rackConductance, fwsSupplyC + shiftK, fwsDpPa);
    }
}
