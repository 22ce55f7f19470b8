package io.loopwarden.virtual.sense;

import static io.loopwarden.fleet.Points.numbered;

import io.loopwarden.fleet.PointName;
import io.loopwarden.virtual.control.Controller;
import io.loopwarden.virtual.plant.Plant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.function.ToDoubleBiFunction;

/** Every point that a unit can measure, in a fixed order, and how its true value comes from the plant. */
public final class Channels {

    private static final double GLYCOL_S_PER_M = 0.24;
    private static final double WATER_S_PER_M = 0.002;
    private static final double FACILITY_S_PER_M = 0.06;

    private final List<PointName> points = new ArrayList<>();
    private final List<ToDoubleBiFunction<Plant, Controller>> truths = new ArrayList<>();
    private final Map<PointName, Integer> index = new HashMap<>();

    public Channels(int exchangers, int filters, int pumps) {
        temperaturesAndFlows();
        pressures();
        add("fws.valve.position", (p, c) -> p.actuators().valvePosition);
        add("fws.valve.command", (p, c) -> c.valveCommand());
        add("approach.setpoint", (p, c) -> c.setpoints().approachK());
        for (int i = 0; i < filters; i++) {
            int n = i;
            add(numbered("tcs.filter.{n}.dp", n + 1), (p, c) -> p.filterDpPa(n));
        }
        for (int i = 0; i < exchangers; i++) {
            int n = i;
            add(numbered("exchanger.{n}.tcs.dp", n + 1), (p, c) -> p.exchangerTcsDpPa(n));
            add(numbered("exchanger.{n}.fws.dp", n + 1), (p, c) -> p.exchangerFwsDpPa());
        }
        for (int i = 0; i < pumps; i++) {
            addPump(i);
        }
        reservoirAndRest();
    }

    private void temperaturesAndFlows() {
        add("tcs.supply.temperature", (p, c) -> p.tcsSupplyC());
        add("tcs.return.temperature", (p, c) -> p.tcsReturnC());
        add("tcs.supply.temperature.redundant", (p, c) -> p.tcsSupplyC());
        add("tcs.return.temperature.redundant", (p, c) -> p.tcsReturnC());
        add("fws.supply.temperature", (p, c) -> p.surroundings().fwsSupplyC());
        add("fws.return.temperature", (p, c) -> p.fwsReturnC());
        add("tcs.flow", (p, c) -> p.tcsFlowAtSupplyM3PerS());
        add("tcs.return.flow", (p, c) -> p.tcsFlowAtReturnM3PerS());
        add("fws.flow", (p, c) -> p.fwsFlowAtSupplyM3PerS());
    }

    private void pressures() {
        add("tcs.dp", (p, c) -> p.rackDpPa());
        add("tcs.dp.setpoint", (p, c) -> c.setpoints().tcsDpPa());
        add("tcs.supply.pressure", (p, c) -> p.tcsReturnPressurePa() + p.rackDpPa());
        add("tcs.return.pressure", (p, c) -> p.tcsReturnPressurePa());
        add("fws.dp", (p, c) -> p.surroundings().fwsDpPa());
        add("fws.supply.pressure", (p, c) -> p.fwsSupplyPressurePa());
        add("fws.strainer.dp", (p, c) -> p.strainerDpPa());
    }

    private void addPump(int i) {
        add(numbered("pump.{n}.running", i + 1), (p, c) -> p.actuators().pumpSpeed[i] > 0.02 ? 1 : 0);
        add(numbered("pump.{n}.speed", i + 1), (p, c) -> p.actuators().pumpSpeed[i]);
        add(numbered("pump.{n}.power", i + 1), (p, c) -> p.pumpElectricW(i));
        add(numbered("pump.{n}.dp", i + 1), (p, c) -> p.pumpDpPa(i));
        add(numbered("pump.{n}.starts", i + 1), (p, c) -> c.starts(i));
        add(numbered("pump.{n}.run-time", i + 1), (p, c) -> Math.floor(c.runTimeS(i)));
    }

    private void reservoirAndRest() {
        add("reservoir.level", (p, c) -> p.reservoirLevel());
        add("makeup.running", (p, c) -> c.makeupRuns() ? 1 : 0);
        add("makeup.volume", (p, c) -> p.madeUpM3());
        add("tray.wet", (p, c) -> p.trayWet() ? 1 : 0);
        add("rope.wet", (p, c) -> p.ropeWet() ? 1 : 0);
        add("coolant.conductivity", (p, c) -> conductivitySPerM(p));
        add("coolant.ph", (p, c) -> 8.4);
        add("controller.heartbeat", (p, c) -> c.heartbeat());
    }

    private static double conductivitySPerM(Plant plant) {
        double filled =
                plant.parameters().nameplate().tcsCoolant().glycolMassFraction() > 0 ? GLYCOL_S_PER_M : WATER_S_PER_M;
        return filled + plant.facilityShare() * (FACILITY_S_PER_M - filled);
    }

    private void add(String name, ToDoubleBiFunction<Plant, Controller> truth) {
        add(PointName.of(name), truth);
    }

    private void add(PointName point, ToDoubleBiFunction<Plant, Controller> truth) {
        index.put(point, points.size());
        points.add(point);
        truths.add(truth);
    }

    public List<PointName> points() {
        return List.copyOf(points);
    }

    public int size() {
        return points.size();
    }

    public PointName point(int channel) {
        return points.get(channel);
    }

    public OptionalInt indexOf(PointName point) {
        Integer found = index.get(point);
        return found == null ? OptionalInt.empty() : OptionalInt.of(found);
    }

    public int require(String point) {
        return indexOf(PointName.of(point))
                .orElseThrow(() -> new IllegalArgumentException("this unit does not measure " + point));
    }

    double truth(int channel, Plant plant, Controller controller) {
        return truths.get(channel).applyAsDouble(plant, controller);
    }
}
