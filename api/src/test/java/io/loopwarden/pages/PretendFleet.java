package io.loopwarden.pages;

import io.vertx.core.json.JsonArray;
import io.vertx.core.json.JsonObject;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;

/** Unit rows and points with the shape of the service's own, and a little noise; figures are made up. */
final class PretendFleet {

    private final List<JsonObject> rows = new ArrayList<>();
    private final Random noise = new Random(1);

    PretendFleet(int units) {
        IntStream.range(0, units).forEach(n -> rows.add(row(n, units)));
    }

    List<JsonObject> rows() {
        return rows;
    }

    /** One second of life: every unit that is not silent gets new figures. */
    void step(Instant now) {
        for (int n = 0; n < rows.size(); n++) {
            if (n % 24 != 9) {
                refresh(rows.get(n), n, now);
            }
        }
    }

    private JsonObject row(int n, int units) {
        boolean east = n % 24 < 12;
        String id = (east ? "E-" : "W-") + String.format(units > 99 ? "%03d" : "%02d", n / 24 * 12 + n % 12 + 1);
        JsonObject row = new JsonObject()
                .put("id", id)
                .put("hall", east ? "East" : "West")
                .put("supplier", east ? "Quillmere" : "Ostravik")
                .put("model", east ? "1400" : "C14")
                .put("coolant", "PG-25")
                .put("ratedDutyW", 1.4e6)
                .put("ratedApproachK", 5.0)
                .put("signal", signal(n))
                .put("connection", connection(n));
        refresh(row, n, Instant.now().minusSeconds(n % 24 == 9 ? 200 : 0));
        return row;
    }

    private static JsonObject signal(int n) {
        return switch (n) {
            case 6 ->
                signal("maintenance-required", "heat-transfer", "exchangers carry 84 % of the rated duty; clean them");
            case 9 -> signal("failure", "instruments", "no reading for 3 min: connection west-modbus lost");
            case 14 -> signal("out-of-specification", "instruments", "heat balance is open by 4.1 %, allowed 2.1 %");
            case 20 -> signal("function-check", "instruments", "level sensor under calibration");
            case 18 ->
                signal("good", "heat-transfer", "Cannot be judged now. The duty is too low for UA.")
                        .put("judged", false);
            default -> signal("good", "heat-transfer", "");
        };
    }

    private static JsonObject signal(String code, String function, String reason) {
        return new JsonObject()
                .put("code", code)
                .put("function", function)
                .put("reason", reason)
                .put("judged", true);
    }

    private static JsonObject connection(int n) {
        return new JsonObject()
                .put("name", n % 24 < 12 ? "east-opcua" : "west-modbus")
                .put("protocol", n % 24 < 12 ? "opc-ua" : "modbus-tcp")
                .put("state", n % 24 == 9 ? "lost" : "connected")
                .put("detail", "");
    }

    private void refresh(JsonObject row, int n, Instant now) {
        double reserve = n == 6 ? 0.84 : 1.02 + (n * 7 % 11) / 60.0;
        double dutyW = (0.65 + (n * 13 % 17) / 40.0) * 1e6 + 4e3 * noise.nextGaussian();
        JsonObject approach = figure("approach", "K", 4 + 0.02 * noise.nextGaussian(), 0.12, now);
        JsonObject duty = figure("duty", "W", dutyW, 9e3, now);
        JsonObject ua = figure("ua", "W/K", 281e3 * reserve, 3.1e3, now);
        JsonObject closure = figure("heat-balance-closure", "1", n == 14 ? 0.041 : 0.008, 0.0045, now);
        JsonObject heat = n % 24 == 18
                ? missing("heat-transfer-reserve", "1", "not-observable", "duty 0.05 MW is too low for UA")
                : figure("heat-transfer-reserve", "1", reserve + 0.001 * noise.nextGaussian(), 0.016, now);
        row.put("lastSampleAt", now.toString())
                .put(
                        "functions",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("function", "heat-transfer")
                                        .put("reserve", heat)
                                        .put(
                                                "sentence",
                                                String.format(
                                                        "Could carry %.2f MW at 5.0 K; rated 1.40 MW.", 1.4 * reserve)))
                                .add(new JsonObject()
                                        .put("function", "instruments")
                                        .put("reserve", closure)
                                        .put("sentence", "Heat balance closes to 0.8 %; allowed 2.1 %.")))
                .put(
                        "figures",
                        new JsonObject()
                                .put("approach", approach)
                                .put("duty", duty)
                                .put("ua", ua)
                                .put("fouling-resistance", figure("fouling-resistance", "K/W", 6.1e-7, 2e-8, now))
                                .put("days-to-limit", figure("days-to-limit", "d", n == 6 ? 19 : 300, 4, now))
                                .put("heat-transfer-reserve", heat)
                                .put("heat-balance-closure", closure));
    }

    private static JsonObject figure(String key, String unit, double value, double u, Instant to) {
        return new JsonObject()
                .put("key", key)
                .put("unit", unit)
                .put("value", value)
                .put("standardUncertainty", u)
                .put("from", to.minusSeconds(300).toString())
                .put("to", to.toString());
    }

    private static JsonObject missing(String key, String unit, String reason, String detail) {
        return new JsonObject()
                .put("key", key)
                .put("unit", unit)
                .put("reason", reason)
                .put("detail", detail);
    }

    /** The unit's page: its row, its nameplate and its points. */
    JsonObject unit(JsonObject row, Instant now) {
        return row.copy()
                .put(
                        "headline",
                        "Clean the exchangers: they would hold 5.0 K up to 1.18 ± 0.04 MW, 84 % of the rated duty.")
                .put(
                        "hidden",
                        "The approach reads 4.02 K and has not moved in 60 days: the controller has opened the valve from 48 to 71 % instead.")
                .put(
                        "nameplate",
                        new JsonObject()
                                .put("ratedDutyW", 1.4e6)
                                .put("ratedApproachK", 5.0)
                                .put("ratedTcsFlowM3PerS", 0.0315)
                                .put("ratedFwsFlowM3PerS", 0.0345)
                                .put("availableHeadPa", 240e3)
                                .put("pumps", 2)
                                .put("pumpsNeeded", 1)
                                .put("exchangers", 3)
                                .put("filters", 4)
                                .put("tcsCoolant", "PG-25")
                                .put("loopVolumeM3", 1.9))
                .put("points", points(now));
    }

    private JsonArray points(Instant now) {
        JsonArray points = new JsonArray();
        add(points, "fws.supply.temperature", "temperature", "Cel", 20.41, now);
        add(points, "fws.return.temperature", "temperature", "Cel", 28.96, now);
        add(points, "fws.flow", "volume-flow", "m3/s", 0.0224, now);
        add(points, "fws.dp", "differential-pressure", "Pa", 96e3, now);
        add(points, "fws.strainer.dp", "differential-pressure", "Pa", 11.2e3, now);
        add(points, "fws.valve.position", "ratio", "1", 0.71, now);
        add(points, "tcs.supply.temperature", "temperature", "Cel", 24.43 + 0.02 * noise.nextGaussian(), now);
        add(points, "tcs.return.temperature", "temperature", "Cel", 30.85, now);
        add(points, "tcs.flow", "volume-flow", "m3/s", 0.0312 + 2e-5 * noise.nextGaussian(), now);
        add(points, "tcs.dp", "differential-pressure", "Pa", 212e3, now);
        add(points, "tcs.supply.pressure", "gauge-pressure", "Pa", 342e3, now);
        add(points, "tcs.return.pressure", "gauge-pressure", "Pa", 130e3, now);
        IntStream.rangeClosed(1, 3).forEach(n -> {
            add(points, "exchanger." + n + ".tcs.dp", "differential-pressure", "Pa", 38e3 + 700 * n, now);
            add(points, "exchanger." + n + ".fws.dp", "differential-pressure", "Pa", 41e3 + 900 * n, now);
        });
        IntStream.rangeClosed(1, 4)
                .forEach(n ->
                        add(points, "tcs.filter." + n + ".dp", "differential-pressure", "Pa", 22e3 + 3e3 * n, now));
        IntStream.rangeClosed(1, 2).forEach(n -> {
            add(points, "pump." + n + ".running", "flag", "1", 2 - n, now);
            add(points, "pump." + n + ".speed", "ratio", "1", n == 1 ? 0.74 : 0, now);
            add(points, "pump." + n + ".power", "power", "W", n == 1 ? 9.8e3 : 0, now);
            add(points, "pump." + n + ".starts", "count", "1", 40 + n, now);
        });
        add(points, "reservoir.level", "ratio", "1", 0.62, now);
        add(points, "tray.wet", "flag", "1", 0, now);
        add(points, "coolant.conductivity", "conductivity", "S/m", 0.021, now);
        add(points, "coolant.ph", "ph", "[pH]", 8.4, now);
        points.getJsonObject(2).put("quality", "uncertain").put("code", 0x40000000L);
        points.getJsonObject(4).put("quality", "bad").put("code", 0x80310000L);
        points.getJsonObject(11).put("measuredAt", now.minusSeconds(180).toString());
        points.add(new JsonObject()
                .put("point", "rope.wet")
                .put("quantity", "flag")
                .put("unit", "1")
                .putNull("value")
                .put("quality", "bad")
                .put("code", 0)
                .putNull("measuredAt"));
        return points;
    }

    private static void add(JsonArray points, String point, String quantity, String unit, double value, Instant at) {
        points.add(new JsonObject()
                .put("point", point)
                .put("quantity", quantity)
                .put("unit", unit)
                .put("value", value)
                .put("quality", "good")
                .put("code", 0)
                .put("measuredAt", at.toString()));
    }
}
