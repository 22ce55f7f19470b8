package io.loopwarden.virtual.plant;

import io.loopwarden.fleet.Nameplate;

/**
 * How one virtual unit is built: what its nameplate says, and what its maker's design adds.
 *
 * @param plateAreaM2 of all exchangers together
 * @param tcsFilmWPerM2K film coefficient at rated flow with water of 40 °C, TCS side
 * @param fwsFilmWPerM2K the same, FWS side
 * @param pumpDpPa of one pump at rated flow and full speed
 * @param valveAuthority share of the design FWS differential pressure that falls over the open valve
 */
public record PlantParameters(
        Nameplate nameplate,
        double plateAreaM2,
        double tcsFilmWPerM2K,
        double fwsFilmWPerM2K,
        double pumpDpPa,
        double designFwsDpPa,
        double valveAuthority,
        double exchangerTcsDpPa,
        double filterElementDpPa,
        double filterFittingsDpPa,
        double internalPipeDpPa,
        double strainerDpPa,
        double exchangerFwsDpPa) {

    public PlantParameters {
        double fwsFixed = (1 - valveAuthority) * designFwsDpPa - strainerDpPa - exchangerFwsDpPa;
        if (fwsFixed < 0) {
            throw new IllegalArgumentException(nameplate.model() + ": strainer and exchangers take " + -fwsFixed
                    + " Pa more than the FWS differential pressure leaves beside the valve");
        }
    }

    /** FWS pipework at rated flow: what strainer, exchangers and open valve leave of the design differential pressure. */
    double fwsPipeDpPa() {
        return (1 - valveAuthority) * designFwsDpPa - strainerDpPa - exchangerFwsDpPa;
    }
}
