package io.loopwarden.virtual.serve;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.loopwarden.virtual.Truth;
import java.util.Map;

/** The truth as JSON: one object, field names as in {@link Truth}, with the unit's id in front. */
public final class Truths {

    private static final ObjectMapper JSON = new ObjectMapper();

    private Truths() {}

    public static JsonNode json(String unit, Truth truth) {
        ObjectNode node = JSON.createObjectNode();
        node.put("unit", unit).put("at", truth.at().toString());
        put(node, "rackHeatW", truth.rackHeatW());
        put(node, "dutyW", truth.dutyW());
        put(node, "tcsSupplyC", truth.tcsSupplyC());
        put(node, "tcsReturnC", truth.tcsReturnC());
        put(node, "fwsSupplyC", truth.fwsSupplyC());
        put(node, "fwsReturnC", truth.fwsReturnC());
        put(node, "tcsFlowM3PerS", truth.tcsFlowM3PerS());
        put(node, "fwsFlowM3PerS", truth.fwsFlowM3PerS());
        put(node, "uaWPerK", truth.uaWPerK());
        put(node, "cleanUaWPerK", truth.cleanUaWPerK());
        node.set("exchangerUaWPerK", JSON.valueToTree(truth.exchangerUaWPerK()));
        node.set("foulingM2KPerW", JSON.valueToTree(truth.foulingM2KPerW()));
        node.set("filterLoading", JSON.valueToTree(truth.filterLoading()));
        node.set("pumpWear", JSON.valueToTree(truth.pumpWear()));
        put(node, "strainerLoading", truth.strainerLoading());
        put(node, "leakM3PerS", truth.leakM3PerS());
        put(node, "leakedM3", truth.leakedM3());
        put(node, "approachAtRatedK", truth.approachAtRatedK());
        ObjectNode errors = node.putObject("sensorError");
        for (Map.Entry<String, Double> error : truth.sensorError().entrySet()) {
            if (error.getValue() != 0) {
                put(errors, error.getKey(), error.getValue());
            }
        }
        node.set("activeFaults", JSON.valueToTree(truth.activeFaults()));
        return node;
    }

    private static void put(ObjectNode node, String key, double value) {
        node.put(key, value);
    }
}
