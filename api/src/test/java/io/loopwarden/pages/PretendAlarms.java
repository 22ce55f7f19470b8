package io.loopwarden.pages;

import io.vertx.core.json.JsonArray;
import io.vertx.core.json.JsonObject;
import java.time.Instant;

/** Alarms of the made-up fleet in the service's own formats: a leak nobody has seen, a hall's facility step that somebody has. */
final class PretendAlarms {

    private static final String LEAK = "E-07/tray-wet";

    private boolean acknowledged;

    static boolean answers(String path) {
        return path.matches("/api/v1/(alarm|incident|shift-log|on-call).*");
    }

    /** An object, or a list that is wrapped by nobody: encoded as JSON. */
    Object answer(String method, String path, Instant now) {
        if (path.equals("/api/v1/alarms")) {
            return list(now);
        }
        if (method.equals("POST") && path.contains("acknowledge")) {
            acknowledged = true;
            return new JsonArray();
        }
        if (path.startsWith("/api/v1/alarms/")) {
            return detail(now);
        }
        return switch (path) {
            case "/api/v1/alarm-performance" -> performance(now);
            case "/api/v1/alarm-definitions" ->
                new JsonObject()
                        .put("definitions", new JsonArray().add(definition()))
                        .put("standard", "alarms:\n  - alarm: tray-wet\n    title: Wet\n")
                        .put("faults", new JsonArray());
            case "/api/v1/alarm-history" -> new JsonArray().add(transition(now));
            case "/api/v1/shift-log" ->
                new JsonArray()
                        .add(new JsonObject()
                                .put("at", now.minusSeconds(900).toString())
                                .put("who", "mara")
                                .put("about", "E-07")
                                .put("note", "pump 2 sounds rough"));
            default -> onCall(now);
        };
    }

    private JsonObject list(Instant now) {
        JsonObject leak = alarm(now, "E-07", "tray-wet", "Liquid in the drip tray", "high", "one")
                .put("state", acknowledged ? "acknowledged" : "unacknowledged")
                .put("awaitsAcknowledgement", !acknowledged);
        JsonArray alarms = new JsonArray().add(leak);
        JsonArray units = new JsonArray();
        JsonArray ids = new JsonArray();
        for (int n = 1; n <= 9; n++) {
            String unit = "E-0" + n;
            units.add(unit);
            ids.add(unit + "/facility-too-warm");
            alarms.add(
                    alarm(now, unit, "facility-too-warm", "Facility water is warmer than designed for", "high", "two")
                            .put("state", "acknowledged")
                            .put("awaitsAcknowledgement", false));
        }
        JsonArray incidents = new JsonArray()
                .add(incident(now, "one", "E-07", "leak", "Liquid in the drip tray", LEAK)
                        .put("sources", new JsonArray().add("E-07"))
                        .put("alarms", new JsonArray().add(LEAK)))
                .add(incident(
                                now,
                                "two",
                                "hall:East",
                                "facility",
                                "Facility water is warmer than designed for",
                                "E-01/facility-too-warm")
                        .put("sources", units)
                        .put("alarms", ids)
                        .put("takenBy", "Omar"));
        return new JsonObject()
                .put("at", now.toString())
                .put("version", acknowledged ? 2 : 1)
                .put("floodSince", now.minusSeconds(120).toString())
                .put("kept", true)
                .put("total", alarms.size())
                .put("counts", new JsonObject().put("acknowledged", 9).put("suppressed-by-design", 4))
                .put("incidents", incidents)
                .put("alarms", alarms)
                .put("holds", new JsonArray());
    }

    private JsonObject detail(Instant now) {
        return new JsonObject()
                .put("at", now.toString())
                .put("alarm", list(now).getJsonArray("alarms").getJsonObject(0))
                .put("definition", definition())
                .put("incident", list(now).getJsonArray("incidents").getJsonObject(0))
                .put("history", new JsonArray().add(transition(now)))
                .put(
                        "messages",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("id", "8f0c")
                                        .put("person", "ines")
                                        .put("channel", "mail")
                                        .put("kind", "alarm-high")
                                        .put("state", "delivered")
                                        .put("decidedAt", now.toString())))
                .put("holds", new JsonArray());
    }

    private static JsonObject alarm(
            Instant now, String source, String definition, String title, String priority, String incident) {
        return new JsonObject()
                .put("id", source + "/" + definition)
                .put("source", source)
                .put("hall", "East")
                .put("definition", definition)
                .put("title", title)
                .put("priority", priority)
                .put("letter", "B")
                .put("stands", true)
                .put("condition", true)
                .put("since", now.minusSeconds(60).toString())
                .put("raisedAt", now.minusSeconds(60).toString())
                .put("respondBy", now.plusSeconds(240).toString())
                .put("evidence", "tray.wet is 1.00; limit above 0.50")
                .put("cause", "A leak at or above the unit, or condensate.")
                .put("consequence", "Coolant may reach electrical equipment.")
                .put("firstAction", "Go to the unit now.")
                .put("outOfService", false)
                .put("incident", incident)
                .put("show", new JsonArray().add("tcs.dp"));
    }

    private static JsonObject incident(Instant now, String id, String place, String group, String title, String lead) {
        return new JsonObject()
                .put("id", id)
                .put("place", place)
                .put("group", group)
                .put("title", title)
                .put("priority", "high")
                .put("openedAt", now.minusSeconds(60).toString())
                .put("lead", lead);
    }

    private static JsonObject definition() {
        return new JsonObject()
                .put("key", "tray-wet")
                .put("title", "Liquid in the drip tray")
                .put("when", "tray.wet above 0.50")
                .put("priority", "high")
                .put("consequence", "Coolant may reach electrical equipment.")
                .put("firstAction", "Go to the unit now.")
                .put("respondWithinS", 300)
                .put("who", "cooling");
    }

    private static JsonObject transition(Instant now) {
        return new JsonObject()
                .put("at", now.minusSeconds(60).toString())
                .put("alarm", LEAK)
                .put("event", "occur")
                .put("from", "normal")
                .put("to", "unacknowledged")
                .put("who", "Loopwarden")
                .put("why", "tray.wet is 1.00; limit above 0.50");
    }

    private static JsonObject performance(Instant now) {
        return new JsonObject()
                .put("from", now.minusSeconds(604_800).toString())
                .put("to", now.toString())
                .put("operators", 1)
                .put("annunciated", 34)
                .put("perTenMinutes", 0.03)
                .put("peakInTenMinutes", 24)
                .put("shareOfFloodPeriods", 0.001)
                .put(
                        "floods",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("from", now.minusSeconds(900).toString())
                                        .put("to", now.toString())
                                        .put("alarms", 24)))
                .put(
                        "byPriority",
                        new JsonObject().put("low", 20).put("medium", 10).put("high", 4))
                .put(
                        "frequent",
                        new JsonArray().add(new JsonObject().put("alarm", LEAK).put("count", 4)))
                .put("shareOfFrequent", 0.4)
                .put("chattering", new JsonArray().add(LEAK))
                .put("stale", new JsonArray())
                .put("medianToAcknowledgeS", 75)
                .put("ninetyPercentAcknowledgedWithinS", 400)
                .put("unanswered", 1);
    }

    private static JsonObject onCall(Instant now) {
        JsonObject duty = new JsonObject()
                .put("rota", "cooling")
                .put("person", "ines")
                .put("from", now.toString())
                .put("until", now.plusSeconds(86_400).toString())
                .put("cover", false);
        JsonObject plan = new JsonObject()
                .put("operators", 1)
                .put(
                        "people",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("id", "ines")
                                        .put("name", "Ines Falkvard")
                                        .put("zone", "+01:00")
                                        .put("contacts", new JsonArray().add(new JsonObject().put("channel", "mail")))))
                .put("rotas", new JsonArray().add(new JsonObject().put("name", "cooling")))
                .put("covers", new JsonArray())
                .put(
                        "chains",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("name", "cooling")
                                        .put(
                                                "steps",
                                                new JsonArray()
                                                        .add(new JsonObject()
                                                                .put("after", "PT0S")
                                                                .put("tell", new JsonArray().add("rota:cooling"))))));
        return new JsonObject()
                .put("at", now.toString())
                .put("version", 1)
                .put("plan", plan)
                .put("now", new JsonArray().add(duty))
                .put("next", new JsonArray().add(duty))
                .put(
                        "channels",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("name", "mail")
                                        .put("kind", "mail")
                                        .put("delivered", 3)
                                        .put("failed", 1)
                                        .put("failedInARow", 1)
                                        .put("lastError", "mail.example.org refuses the connection")))
                .put("messages", new JsonArray())
                .put("dead", new JsonArray())
                .put("versions", new JsonArray())
                .put("faults", new JsonArray());
    }
}
