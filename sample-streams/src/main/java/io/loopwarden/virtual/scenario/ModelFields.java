package io.loopwarden.virtual.scenario;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.SensorClass;
import io.loopwarden.virtual.control.Setpoints;
import io.loopwarden.virtual.plant.PlantParameters;
import java.util.OptionalDouble;

/** Reads one entry of {@code models} in the scenario: how a supplier's model is really built. */
record ModelFields(PlantParameters plant, Setpoints setpoints) {

    static ModelFields read(Node node) {
        var setpoints = new Setpoints(node.number("dp-setpoint-pa"), node.number("approach-setpoint-k"));
        return new ModelFields(
                new PlantParameters(
                        nameplate(node),
                        node.number("plate-area-m2"),
                        node.number("tcs-film-w-per-m2k"),
                        node.number("fws-film-w-per-m2k"),
                        node.number("pump-dp-pa"),
                        node.number("design-fws-dp-pa"),
                        node.number("valve-authority"),
                        node.number("exchanger-tcs-dp-pa"),
                        node.number("filter-element-dp-pa"),
                        node.number("filter-fittings-dp-pa"),
                        node.number("internal-pipe-dp-pa"),
                        node.number("strainer-dp-pa"),
                        node.number("exchanger-fws-dp-pa")),
                setpoints);
    }

    private static Nameplate nameplate(Node node) {
        double glycol = node.number("tcs-glycol-mass-fraction");
        Node sensors = node.map("sensors");
        return new Nameplate(
                node.text("supplier"),
                node.text("model"),
                node.number("rated-duty-w"),
                node.number("rated-approach-k"),
                node.number("rated-tcs-flow-m3-per-s"),
                node.number("rated-fws-flow-m3-per-s"),
                OptionalDouble.of(node.number("design-fws-dp-pa")),
                node.number("available-head-pa"),
                node.number("design-fws-supply-c"),
                glycol == 0 ? CoolantSpec.WATER : new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, glycol),
                CoolantSpec.WATER,
                (int) node.number("pumps", 2),
                1,
                (int) node.number("exchangers", 3),
                (int) node.number("filters", 4),
                node.number("loop-volume-m3"),
                node.number("reservoir-volume-m3"),
                node.number("filter-terminal-dp-pa"),
                OptionalDouble.of(node.number("plate-area-m2")),
                new SensorClass(
                        sensors.number("temperature-limit-k"),
                        sensors.number("temperature-limit-per-k"),
                        sensors.number("flow-limit-ratio"),
                        sensors.number("pressure-limit-pa")));
    }
}
