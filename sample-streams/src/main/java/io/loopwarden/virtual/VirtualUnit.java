package io.loopwarden.virtual;

import io.loopwarden.fleet.PointName;
import io.loopwarden.virtual.control.Controller;
import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.Faults;
import io.loopwarden.virtual.plant.Condition;
import io.loopwarden.virtual.plant.Plant;
import io.loopwarden.virtual.plant.SmoothNoise;
import io.loopwarden.virtual.plant.Surroundings;
import io.loopwarden.virtual.sense.Channels;
import io.loopwarden.virtual.sense.Instruments;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;

/**
 * One virtual unit: plant, controller, instruments, faults. The same specification and the same steps give the same readings. Not safe
 * for several threads.
 */
public final class VirtualUnit {

    /** Longest step with storage in the exchangers and the controller's own loops. */
    private static final double LONGEST_DYNAMIC_S = 1;

    private final UnitSpec spec;
    private final Plant plant;
    private final Controller controller;
    private final Faults faults;
    private final Channels channels;
    private final Instruments instruments;
    private final int dp;
    private final int supply;
    private final int fws;
    private final int level;
    private double epochS;
    private double facilityShiftK;
    private boolean coarse;

    /** A unit that runs at {@code start}, warm, with the faults that began before. */
    public VirtualUnit(UnitSpec spec, Instant start) {
        this.spec = spec;
        this.epochS = start.toEpochMilli() / 1000.0;
        SplittableRandom random = new SplittableRandom(SmoothNoise.mix(spec.seed()));
        var plate = spec.plant().nameplate();
        plant = new Plant(spec.plant(), spec.site().at(epochS).fwsSupplyC() + 8);
        controller = new Controller(
                plant.actuators(),
                spec.setpoints(),
                random.nextDouble() * 6 * 86400,
                4000 + 9000 * random.nextDouble());
        faults = new Faults(spec.faults());
        channels = new Channels(plate.exchangers(), plate.filters(), plate.pumps());
        instruments = new Instruments(channels, plate.sensors(), random);
        dp = channels.require("tcs.dp");
        supply = channels.require("tcs.supply.temperature");
        fws = channels.require("fws.supply.temperature");
        level = channels.require("reservoir.level");
        warmUp();
    }

    private void warmUp() {
        double start = epochS;
        epochS = start - 3600;
        faults.apply(plant.condition(), epochS);
        instruments.read(plant, controller, faults.all(), epochS, 1);
        while (epochS < start - 1e-6) {
            coarseStep(30);
        }
    }

    public String id() {
        return spec.id();
    }

    public UnitSpec spec() {
        return spec;
    }

    public List<PointName> points() {
        return channels.points();
    }

    public Instant now() {
        return Instant.ofEpochMilli(Math.round(epochS * 1000));
    }

    /** Advances in steps of at most a second, with all dynamics. */
    public void step(Duration duration) {
        double left = duration.toNanos() * 1e-9;
        if (coarse) {
            controller.adopt();
            coarse = false;
        }
        while (left > 1e-9) {
            double dtS = Math.min(left, LONGEST_DYNAMIC_S);
            dynamicStep(dtS);
            left -= dtS;
        }
    }

    /**
     * Advances in one step of ten seconds or more: exchangers in steady state, actuators where the controller would have settled. For
     * studies over months.
     */
    public void coarseStep(Duration duration) {
        coarseStep(duration.toNanos() * 1e-9);
    }

    private void dynamicStep(double dtS) {
        epochS += dtS;
        Condition condition = plant.condition();
        faults.apply(condition, epochS);
        if (!condition.controllerLost) {
            controller.control(
                    instruments.shown(dp),
                    instruments.shown(supply) - instruments.shown(fws),
                    instruments.shown(level),
                    condition,
                    dtS);
        }
        plant.step(surroundings(), dtS);
        read(condition, dtS);
    }

    /** What happens to the facility: its water is warmer by so much from now on. */
    public void warmFacility(double shiftK) {
        facilityShiftK = shiftK;
    }

    private Surroundings surroundings() {
        return spec.site().at(epochS).warmer(facilityShiftK);
    }

    private void coarseStep(double dtS) {
        coarse = true;
        epochS += dtS;
        Condition condition = plant.condition();
        faults.apply(condition, epochS);
        if (!condition.controllerLost) {
            controller.housekeeping(instruments.shown(dp), instruments.shown(level), dtS);
        }
        double approach = spec.setpoints().approachK() - instruments.error(supply) + instruments.error(fws);
        double target = spec.setpoints().tcsDpPa() - instruments.error(dp);
        plant.settle(surroundings(), target, approach, controller.bothRun(), dtS);
        controller.adopt();
        read(condition, dtS);
    }

    private void read(Condition condition, double dtS) {
        if (!condition.controllerLost) {
            instruments.read(plant, controller, faults.all(), epochS, dtS);
        }
    }

    /** The controller runs; when it does not, nothing new can be read. */
    public boolean alive() {
        return !plant.condition().controllerLost;
    }

    public Readings readings() {
        return readings(now());
    }

    /** What the sensors show, stamped with a time of the caller's. */
    public Readings readings(Instant at) {
        double[] values = new double[channels.size()];
        boolean[] bad = new boolean[channels.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = instruments.shown(i);
            bad[i] = instruments.isDead(i);
        }
        return new Readings(channels, at, values, bad);
    }

    /** What one sensor shows, without making a set of all; for long studies. */
    public double value(PointName point) {
        return instruments.shown(channels.require(point.value()));
    }

    public Truth truth() {
        Condition condition = plant.condition();
        List<Double> ua = new ArrayList<>();
        double clean = 0;
        for (int i = 0; i < condition.foulingM2KPerW.length; i++) {
            ua.add(plant.uaWPerK(i));
            clean += plant.cleanUaWPerK(i);
        }
        Map<String, Double> errors = new TreeMap<>();
        for (int i = 0; i < channels.size(); i++) {
            errors.put(channels.point(i).value(), instruments.error(i));
        }
        List<String> active = faults.all().stream()
                .filter(fault -> fault.severity(epochS) != 0)
                .map(fault -> fault.kind() + " " + fault.point().orElse(Integer.toString(fault.target())) + " "
                        + fault.severity(epochS))
                .toList();
        return new Truth(
                now(),
                plant.surroundings().rackHeatW(),
                plant.transferW(),
                plant.tcsSupplyC(),
                plant.tcsReturnC(),
                plant.surroundings().fwsSupplyC(),
                plant.fwsReturnC(),
                plant.tcsFlowM3PerS(),
                plant.fwsFlowM3PerS(),
                ua.stream().mapToDouble(Double::doubleValue).sum(),
                clean,
                ua,
                boxed(condition.foulingM2KPerW),
                boxed(condition.filterLoading),
                boxed(plant.filterDpAtRatedPa()),
                boxed(condition.pumpWear),
                condition.strainerLoading,
                condition.leakM3PerS + plant.throughPinholeM3PerS(),
                plant.leakedM3(),
                plant.approachAtRatedK(),
                errors,
                active);
    }

    private static List<Double> boxed(double[] values) {
        return Arrays.stream(values).boxed().toList();
    }

    public void addFault(Fault fault) {
        fault.point().ifPresent(channels::require);
        faults.add(fault);
    }

    /** All of them, active or not. */
    public List<Fault> faults() {
        return faults.all();
    }

    /** Moves one sensor away from the truth by that much from now on. */
    public void setSensorOffset(PointName point, double offset) {
        instruments.setManualOffset(point, offset);
    }

    /** Lets one sensor show exactly this; NaN gives it back to the plant. */
    public void override(PointName point, double value) {
        instruments.override(point, value);
    }
}
