package io.loopwarden.virtual.plant;

/**
 * The physics of one unit and its loops: hydraulics in balance at every instant, heat stored in exchangers, pipes and racks, coolant
 * counted by mass. All steps are implicit, so a step may be a second or a minute.
 */
public final class Plant {

    private static final double TCS_STATIC_PA = 160e3;
    private static final double FWS_RETURN_PA = 250e3;
    private static final double RACK_SOLID_J_PER_K = 4.0e6;
    private static final double SUPPLY_SHARE = 0.35;
    private static final double RACK_SHARE = 0.2;
    private static final double RETURN_SHARE = 0.45;
    /** Far below the noise of a temperature sensor. */
    private static final double SETTLED_K = 1e-3;

    private static final double TRAY_WET_M3 = 0.0005;

    private final PlantParameters parameters;
    private final Coolant tcs;
    private final Coolant fws;
    private final Pump pump;
    private final ControlValve valve;
    private final FilterBank filters;
    /** A second bank of filters of the same build, for the same reason as the exchangers' second one. */
    private final FilterBank ratedFilters;

    private final ExchangerBank exchangers;
    /** A second bank of the same build, to ask what would be without touching what is. */
    private final ExchangerBank rated;

    private final Condition condition;
    private final Actuators actuators;
    private final double tcsFixed;
    private final double rackOpen;
    private final double strainer;
    private final double fwsExchangers;
    private final double fwsPipe;
    private final double tcsExchangers;

    private Surroundings surroundings;
    private double filterBankDpPa;
    private double tcsFlow;
    private double fwsFlow;
    private double rackDpPa;
    private double shaftW;
    private double approachSlope = -6;
    private double supplyPipeC;
    private double rackC;
    private double returnPipeC;
    private double coolantKg;
    private double leakedM3;
    private double facilityShare;
    private double madeUpM3;
    private double transferW;

    public Plant(PlantParameters parameters, double startC) {
        this.parameters = parameters;
        var plate = parameters.nameplate();
        tcs = new Coolant(plate.tcsCoolant());
        fws = new Coolant(plate.fwsCoolant());
        pump = new Pump(plate.ratedTcsFlowM3PerS(), parameters.pumpDpPa());
        double fwsSquare = square(plate.ratedFwsFlowM3PerS());
        valve = new ControlValve(parameters.valveAuthority() * parameters.designFwsDpPa() / fwsSquare);
        strainer = parameters.strainerDpPa() / fwsSquare;
        fwsExchangers = parameters.exchangerFwsDpPa() / fwsSquare;
        fwsPipe = parameters.fwsPipeDpPa() / fwsSquare;
        double tcsSquare = square(plate.ratedTcsFlowM3PerS());
        tcsExchangers = parameters.exchangerTcsDpPa() / tcsSquare;
        tcsFixed = tcsExchangers + parameters.internalPipeDpPa() / tcsSquare;
        rackOpen = plate.availableHeadPa() / tcsSquare;
        filters = filters(parameters);
        ratedFilters = filters(parameters);
        filterBankDpPa = parameters.filterElementDpPa() + parameters.filterFittingsDpPa();
        exchangers = new ExchangerBank(parameters, tcs, fws, startC);
        rated = new ExchangerBank(parameters, tcs, fws, startC);
        condition = new Condition(plate.exchangers(), plate.filters(), plate.pumps());
        actuators = new Actuators(plate.pumps());
        tcsFlow = 0.8 * plate.ratedTcsFlowM3PerS();
        supplyPipeC = startC;
        rackC = startC;
        returnPipeC = startC;
        double density = tcs.densityKgPerM3(startC);
        coolantKg = density * (plate.loopVolumeM3() + 0.6 * plate.reservoirVolumeM3());
        surroundings = new Surroundings(0, 1, startC, parameters.designFwsDpPa());
    }

    private static FilterBank filters(PlantParameters parameters) {
        return new FilterBank(
                parameters.nameplate().filters(),
                parameters.nameplate().ratedTcsFlowM3PerS(),
                parameters.filterElementDpPa(),
                parameters.filterFittingsDpPa());
    }

    /** Differential pressure of each filter's element at rated flow and 40 °C. Nothing is changed by asking. */
    public double[] filterDpAtRatedPa() {
        double viscosity = tcs.viscosityPaS(40);
        double density = tcs.densityKgPerM3(40);
        ratedFilters.solve(parameters.nameplate().ratedTcsFlowM3PerS(), condition.filterLoading, viscosity, density);
        double[] dpPa = new double[condition.filterLoading.length];
        for (int i = 0; i < dpPa.length; i++) {
            dpPa[i] = ratedFilters.elementDpPa(i, condition.filterLoading, viscosity, density);
        }
        return dpPa;
    }

    public PlantParameters parameters() {
        return parameters;
    }

    public Condition condition() {
        return condition;
    }

    public Actuators actuators() {
        return actuators;
    }

    /** One step with storage in the exchangers; for steps of about a second. */
    public void step(Surroundings around, double dtS) {
        surroundings = around;
        exchangers.prepare();
        solveFlows();
        solveExchangers(dtS);
        advance(dtS);
    }

    /**
     * One step with exchangers in steady state and actuators where an ideal controller would have put them, within their limits; for
     * steps from ten seconds to minutes.
     */
    public void settle(Surroundings around, double dpTargetPa, double approachTargetK, boolean allPumps, double dtS) {
        surroundings = around;
        exchangers.prepare();
        settlePumps(dpTargetPa, allPumps);
        settleValve(approachTargetK);
        advance(dtS);
    }

    private void solveFlows() {
        double shutOff = 0;
        int running = 0;
        for (int i = 0; i < actuators.pumpSpeed.length; i++) {
            if (actuators.pumpSpeed[i] > 0.02) {
                shutOff += pump.shutOffDpPa(actuators.pumpSpeed[i], condition.pumpWear[i]);
                running++;
            }
        }
        if (running == 0) {
            tcsFlow = 0.01 * parameters.nameplate().ratedTcsFlowM3PerS();
            rackDpPa = rackResistance() * tcsFlow * tcsFlow;
            solveFilters();
            solveFwsFlow();
            return;
        }
        shutOff /= running;
        double curvature = pump.curvaturePaS2PerM6() / (running * running);
        for (int iteration = 0; iteration < 4; iteration++) {
            double resistance = curvature + tcsFixed + rackResistance() + filterBankDpPa / square(tcsFlow);
            double next = Math.sqrt(shutOff / resistance);
            boolean close = Math.abs(next - tcsFlow) < 1e-6 * next;
            tcsFlow = next;
            solveFilters();
            if (close) {
                break;
            }
        }
        rackDpPa = rackResistance() * tcsFlow * tcsFlow;
        solveFwsFlow();
    }

    private void solveFilters() {
        filterBankDpPa = filters.solve(
                tcsFlow, condition.filterLoading, tcs.viscosityPaS(returnPipeC), tcs.densityKgPerM3(returnPipeC));
    }

    private void solveFwsFlow() {
        exchangers.split(condition);
        double resistance = fixedFwsResistance(exchangers) + valve.resistancePaS2PerM6(actuators.valvePosition);
        fwsFlow = Math.sqrt(Math.max(0, surroundings.fwsDpPa()) / resistance);
    }

    private double fixedFwsResistance(ExchangerBank bank) {
        return strainer * condition.strainerLoading + fwsExchangers * bank.fwsResistanceRatio(condition) + fwsPipe;
    }

    private double rackResistance() {
        return rackOpen / square(Math.max(0.05, surroundings.rackConductance() * (1 - condition.rackBlockage)));
    }

    private void settlePumps(double dpTargetPa, boolean all) {
        tcsFlow = Math.sqrt(dpTargetPa / rackResistance());
        solveFilters();
        double head = dpTargetPa + tcsFixed * tcsFlow * tcsFlow + filterBankDpPa;
        int duty = duty();
        int running = all ? actuators.pumpSpeed.length : 1;
        double shutOff = 0;
        for (int i = 0; i < actuators.pumpSpeed.length; i++) {
            shutOff += all || i == duty ? pump.shutOffDpPa(1, condition.pumpWear[i]) / running : 0;
        }
        double each = tcsFlow / running;
        double speed = Math.min(1, Math.sqrt((head + pump.curvaturePaS2PerM6() * each * each) / shutOff));
        for (int i = 0; i < actuators.pumpSpeed.length; i++) {
            actuators.pumpSpeed[i] = all || i == duty ? speed : 0;
        }
        solveFlows();
    }

    private int duty() {
        int duty = 0;
        for (int i = 1; i < actuators.pumpSpeed.length; i++) {
            if (actuators.pumpSpeed[i] > actuators.pumpSpeed[duty]) {
                duty = i;
            }
        }
        return duty;
    }

    /** Secant steps from the last position with the last slope, kept within a bracket. */
    private void settleValve(double approachTargetK) {
        double low = 0.02;
        double high = 1;
        double x = actuators.valvePosition;
        double previousX = Double.NaN;
        double previousError = Double.NaN;
        for (int iteration = 0; iteration < 12; iteration++) {
            actuators.valvePosition = x;
            solveFwsFlow();
            solveExchangers(Double.POSITIVE_INFINITY);
            double error = exchangers.tcsOutC() - surroundings.fwsSupplyC() - approachTargetK;
            if (Math.abs(error) < SETTLED_K) {
                return;
            }
            if (error > 0) {
                low = x;
            } else {
                high = x;
            }
            if (high - low < 1e-5) {
                return;
            }
            if (!Double.isNaN(previousX)) {
                approachSlope = Math.min(-0.05, (error - previousError) / (x - previousX));
            }
            previousX = x;
            previousError = error;
            double next = x - error / approachSlope;
            x = next > low && next < high ? next : error > 0 && next >= 1 ? 1 : 0.5 * (low + high);
        }
    }

    private void solveExchangers(double dtS) {
        exchangers.solve(condition, exchangerInC(), surroundings.fwsSupplyC(), tcsFlow, fwsFlow, dtS);
    }

    /** Filters, pump and exchangers take what the pump puts in beyond the work it does on the racks. */
    private double exchangerInC() {
        shaftW = 0;
        int running = 0;
        for (double speed : actuators.pumpSpeed) {
            running += speed > 0.02 ? 1 : 0;
        }
        for (int i = 0; i < actuators.pumpSpeed.length; i++) {
            shaftW += pump.shaftPowerW(actuators.pumpSpeed[i], tcsFlow / Math.max(1, running), condition.pumpWear[i]);
        }
        double heat = tcs.volumetricHeatJPerM3K(returnPipeC);
        return returnPipeC + Math.max(0, shaftW - rackDpPa * tcsFlow) / (heat * tcsFlow);
    }

    private void advance(double dtS) {
        exchangers.keep();
        var plate = parameters.nameplate();
        double heat = exchangers.tcsHeatJPerM3K();
        transferW = exchangers.fwsHeatJPerM3K() * fwsFlow * (exchangers.fwsOutC() - surroundings.fwsSupplyC());
        double supply = SUPPLY_SHARE * plate.loopVolumeM3();
        double racks = RACK_SHARE * plate.loopVolumeM3() + RACK_SOLID_J_PER_K / heat;
        double back = RETURN_SHARE * plate.loopVolumeM3();
        double turn = dtS * tcsFlow;
        supplyPipeC = (supply * supplyPipeC + turn * exchangers.tcsOutC()) / (supply + turn);
        double rackJ = dtS * (surroundings.rackHeatW() + rackDpPa * tcsFlow);
        rackC = (racks * rackC + turn * supplyPipeC + rackJ / heat) / (racks + turn);
        returnPipeC = (back * returnPipeC + turn * rackC) / (back + turn);
        double leak = condition.leakM3PerS * dtS;
        double makeup = actuators.makeupM3PerS * dtS;
        double through = throughPinholeM3PerS() * dtS;
        double poured = condition.pouredM3PerS * dtS;
        double gained = makeup + poured - leak - through;
        coolantKg += gained * tcs.densityKgPerM3(returnPipeC);
        // what leaves carries its share of facility water with it
        double volume = plate.loopVolumeM3() + reservoirLevel() * plate.reservoirVolumeM3();
        facilityShare +=
                (Math.max(0, -through) * (1 - facilityShare) - (makeup + Math.max(0, poured)) * facilityShare) / volume;
        leakedM3 += leak;
        madeUpM3 += makeup;
    }

    /** Out of the loop through a hole in a plate, into it if negative; a turbulent jet at the exchangers' pressures. */
    public double throughPinholeM3PerS() {
        if (condition.pinholeM3PerS == 0) {
            return 0;
        }
        double differencePa = tcsReturnPressurePa() + rackDpPa - fwsSupplyPressurePa();
        return condition.pinholeM3PerS * Math.signum(differencePa) * Math.sqrt(Math.abs(differencePa) / 100e3);
    }

    /** Share of facility water in the coolant, by volume. */
    public double facilityShare() {
        return facilityShare;
    }

    /** Level of the reservoir, 0 to 1: what is left of the coolant's volume once pipes, exchangers and racks are full. */
    public double reservoirLevel() {
        var plate = parameters.nameplate();
        double inLoop = plate.loopVolumeM3()
                * (SUPPLY_SHARE * tcs.densityKgPerM3(supplyPipeC)
                        + RACK_SHARE * tcs.densityKgPerM3(rackC)
                        + RETURN_SHARE * tcs.densityKgPerM3(returnPipeC));
        double left = (coolantKg - inLoop) / tcs.densityKgPerM3(returnPipeC);
        double fastest = 0;
        for (double speed : actuators.pumpSpeed) {
            fastest = Math.max(fastest, speed);
        }
        double shown = left - condition.sloshM3 * fastest * fastest;
        return Math.max(0, Math.min(1, shown / plate.reservoirVolumeM3()));
    }

    /** Heat held by exchangers, pipes and racks relative to 0 °C. */
    public double storedJ() {
        double heat = exchangers.tcsHeatJPerM3K();
        double loop = parameters.nameplate().loopVolumeM3() * heat;
        return exchangers.storedJ()
                + loop * (SUPPLY_SHARE * supplyPipeC + RETURN_SHARE * returnPipeC)
                + (RACK_SHARE * loop + RACK_SOLID_J_PER_K) * rackC;
    }

    /**
     * What the unit would do at rated duty and rated TCS flow with the facility valve fully open, at today's facility supply
     * temperature and differential pressure: the approach in K. Nothing is changed by asking.
     */
    public double approachAtRatedK() {
        var plate = parameters.nameplate();
        double fwsC = surroundings.fwsSupplyC();
        rated.split(condition);
        double resistance = fixedFwsResistance(rated) + valve.resistancePaS2PerM6(1);
        double fwsQ = Math.sqrt(Math.max(0, surroundings.fwsDpPa()) / resistance);
        double tcsQ = plate.ratedTcsFlowM3PerS();
        double rise = 12;
        double in = fwsC + rise + plate.ratedApproachK();
        // Outlet is linear in inlet while the coefficients stand; a few rounds settle these.
        for (int round = 0; round < 20; round++) {
            rated.prepare(in - 0.5 * rise, fwsC + 0.5 * rise);
            rise = plate.ratedDutyW() / (rated.tcsHeatJPerM3K() * tcsQ);
            rated.solve(condition, in, fwsC, tcsQ, fwsQ, Double.POSITIVE_INFINITY);
            in = fwsC + (in - fwsC) * rise / (in - rated.tcsOutC());
        }
        return rated.tcsOutC() - fwsC;
    }

    public double tcsSupplyC() {
        return exchangers.tcsOutC();
    }

    public double tcsReturnC() {
        return returnPipeC;
    }

    public double fwsReturnC() {
        return exchangers.fwsOutC();
    }

    public Surroundings surroundings() {
        return surroundings;
    }

    /** Volume flow at the mean temperature of the exchangers. */
    public double tcsFlowM3PerS() {
        return tcsFlow;
    }

    /** Volume flow at the mean temperature of the exchangers. */
    public double fwsFlowM3PerS() {
        return fwsFlow;
    }

    /** What a meter sees in the supply: the same mass at the temperature there. */
    public double tcsFlowAtSupplyM3PerS() {
        return tcsFlow * tcs.densityKgPerM3(exchangers.tcsMeanC()) / tcs.densityKgPerM3(tcsSupplyC());
    }

    /** What a meter sees in the return, where leaked coolant is missing. */
    public double tcsFlowAtReturnM3PerS() {
        return (tcsFlow - condition.leakM3PerS)
                * tcs.densityKgPerM3(exchangers.tcsMeanC())
                / tcs.densityKgPerM3(returnPipeC);
    }

    /** What a meter sees in the facility supply. */
    public double fwsFlowAtSupplyM3PerS() {
        double mean = 0.5 * (surroundings.fwsSupplyC() + fwsReturnC());
        return fwsFlow * fws.densityKgPerM3(mean) / fws.densityKgPerM3(surroundings.fwsSupplyC());
    }

    public double rackDpPa() {
        return rackDpPa;
    }

    /** Heat that the facility water takes away. */
    public double transferW() {
        return transferW;
    }

    public double shaftPowerW() {
        return shaftW;
    }

    public double tcsReturnPressurePa() {
        return TCS_STATIC_PA + 40e3 * (reservoirLevel() - 0.5);
    }

    public double fwsSupplyPressurePa() {
        return FWS_RETURN_PA + surroundings.fwsDpPa();
    }

    public double strainerDpPa() {
        return strainer * condition.strainerLoading * fwsFlow * fwsFlow;
    }

    public double filterDpPa(int filter) {
        return filters.elementDpPa(
                filter, condition.filterLoading, tcs.viscosityPaS(returnPipeC), tcs.densityKgPerM3(returnPipeC));
    }

    public double exchangerTcsDpPa(int exchanger) {
        double relative =
                exchangers.tcsShare(exchanger) * parameters.nameplate().exchangers();
        return tcsExchangers * square(tcsFlow * relative);
    }

    public double exchangerFwsDpPa() {
        return fwsExchangers * exchangers.fwsResistanceRatio(condition) * fwsFlow * fwsFlow;
    }

    public double pumpDpPa(int number) {
        double speed = actuators.pumpSpeed[number];
        return speed > 0.02 ? rackDpPa + tcsFixed * tcsFlow * tcsFlow + filterBankDpPa : 0;
    }

    public double pumpElectricW(int number) {
        int running = 0;
        for (double speed : actuators.pumpSpeed) {
            running += speed > 0.02 ? 1 : 0;
        }
        return pump.electricPowerW(
                actuators.pumpSpeed[number], tcsFlow / Math.max(1, running), condition.pumpWear[number]);
    }

    public double uaWPerK(int exchanger) {
        return exchangers.uaWPerK(exchanger);
    }

    public double cleanUaWPerK(int exchanger) {
        return exchangers.cleanUaWPerK(exchanger);
    }

    public double leakedM3() {
        return leakedM3;
    }

    public double madeUpM3() {
        return madeUpM3;
    }

    public boolean trayWet() {
        return condition.leakAtTray && leakedM3 > TRAY_WET_M3;
    }

    public boolean ropeWet() {
        return !condition.leakAtTray && leakedM3 > 4 * TRAY_WET_M3;
    }

    private static double square(double x) {
        return x * x;
    }
}
