package io.loopwarden.pages;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleetfile.FleetFolder;
import io.loopwarden.setup.MapLine;
import io.loopwarden.setup.MapPhysics;
import io.loopwarden.setup.MapProposal;
import io.loopwarden.system.Repository;
import io.loopwarden.view.SetupView;
import io.loopwarden.view.SetupView.LineView;
import io.loopwarden.view.SetupView.TagView;
import io.vertx.core.json.JsonArray;
import io.vertx.core.json.JsonObject;
import java.util.List;

/** A made-up source with one new unit, whose map is proposed and checked by the service's own code. */
final class PretendSetup {

    private final Nameplate nameplate = FleetFolder.load(Repository.root().resolve("sample-streams/scenario/fleet"))
            .units()
            .get(0)
            .nameplate();

    JsonObject choices() {
        return new JsonObject()
                .put(
                        "connections",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("name", "east-json")
                                        .put("protocol", "mqtt-json")
                                        .put("endpoint", "mqtt://broker:1883")))
                .put("halls", new JsonArray().add("East").add("West"))
                .put(
                        "nameplates",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("name", "quillmere-1400")
                                        .put("supplier", "Quillmere")
                                        .put("model", "1400")))
                .put(
                        "maps",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("name", "quillmere-1400-json")
                                        .put("protocol", "mqtt-json")))
                .put(
                        "points",
                        new JsonArray(List.of(
                                "tcs.supply.temperature",
                                "tcs.return.temperature",
                                "fws.supply.temperature",
                                "fws.return.temperature",
                                "tcs.flow",
                                "fws.flow",
                                "tcs.dp",
                                "pump.{n}.speed")));
    }

    JsonArray look() {
        return new JsonArray()
                .add(tag("T_TCS_SUP", 34.1))
                .add(tag("T_TCS_RET", 42.4))
                .add(tag("T_FWS_SUP", 29.3))
                .add(tag("T_FWS_RET", 38.0))
                .add(tag("F_TCS", 86.4))
                .add(tag("F_FWS", 82.8))
                .add(tag("DP_TCS", 1.8))
                .add(tag("ROOM_HUMIDITY", 41));
    }

    private static JsonObject tag(String source, double value) {
        return new JsonObject()
                .put("unit", "QE13")
                .put("source", source)
                .put("about", "")
                .put("value", value);
    }

    JsonObject proposal(JsonObject sent) {
        return checked(MapProposal.propose(
                sent.getJsonArray("tags").stream()
                        .map(JsonObject.class::cast)
                        .map(tag -> tag.mapTo(TagView.class).tag())
                        .toList(),
                nameplate));
    }

    JsonObject check(JsonObject sent) {
        return checked(sent.getJsonArray("lines").stream()
                .map(JsonObject.class::cast)
                .map(line -> line.mapTo(LineView.class).line())
                .toList());
    }

    private JsonObject checked(List<MapLine> lines) {
        return JsonObject.mapFrom(new SetupView.Checked(
                lines.stream().map(LineView::of).toList(),
                MapPhysics.check(lines, nameplate).stream()
                        .map(SetupView.FindingView::of)
                        .toList()));
    }
}
