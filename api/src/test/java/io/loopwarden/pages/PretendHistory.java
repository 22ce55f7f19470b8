package io.loopwarden.pages;

import io.loopwarden.cohort.Cohort;
import io.loopwarden.cohort.CohortComparison;
import io.vertx.core.json.JsonArray;
import io.vertx.core.json.JsonObject;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.IntStream;

/** A made-up past: series of points and figures, a forecast, a maintenance log that can be written to. */
final class PretendHistory {

    private static final int BUCKETS = 240;

    private final List<JsonObject> work = new ArrayList<>();

    PretendHistory() {
        Instant now = Instant.now().truncatedTo(ChronoUnit.MINUTES);
        add(entry("E-07", "cleaning", "exchanger", now.minus(Duration.ofDays(62)))
                .put("note", "Plates opened, back-flushed."));
        add(entry("E-03", "filter-change", "tcs.filter.2", now.minus(Duration.ofDays(12))));
        add(entry("W-05", "top-up", null, now.minus(Duration.ofDays(3)))
                .put("amount", new JsonObject().put("value", 14.5).put("unit", "L")));
    }

    private static JsonObject entry(String unit, String kind, String part, Instant from) {
        JsonObject entry = new JsonObject()
                .put("id", UUID.randomUUID().toString())
                .put("unit", unit)
                .put("kind", kind)
                .put("from", from.toString())
                .put("until", from.plus(Duration.ofHours(3)).toString())
                .put("by", "Ines")
                .put("writtenAt", from.plus(Duration.ofHours(4)).toString())
                .put("note", "")
                .put("withdrawn", false);
        return part == null ? entry : entry.put("part", part);
    }

    private JsonObject add(JsonObject entry) {
        work.add(entry);
        return entry;
    }

    JsonArray maintenance() {
        return new JsonArray(work);
    }

    /** Takes an entry as the page sends it. */
    JsonObject write(String unit, JsonObject sent) {
        JsonObject entry = entry(
                        unit, sent.getString("kind"), sent.getString("part"), Instant.parse(sent.getString("from")))
                .put("note", sent.getString("note", ""));
        if (sent.getValue("amount") != null) {
            entry.put(
                    "amount",
                    new JsonObject().put("value", sent.getDouble("amount")).put("unit", sent.getString("amountUnit")));
        }
        return add(entry);
    }

    /** Takes a withdrawal of an entry. */
    JsonObject withdraw(String unit, String id, JsonObject sent) {
        JsonObject voided = work.stream()
                .filter(entry -> entry.getString("id").equals(id))
                .findFirst()
                .orElseThrow();
        voided.put("withdrawn", true);
        return add(entry(unit, "withdrawal", voided.getString("part"), Instant.parse(voided.getString("from")))
                .put("withdraws", id)
                .put("note", sent.getString("note", "")));
    }

    /** One job a month for the worst unit, one filter. */
    JsonArray plan(Instant now) {
        return new JsonArray()
                .add(job("E-07", "East", "heat-transfer", "clean the exchangers", "days-to-limit", now, 19))
                .add(job("E-11", "East", "filtration", "change filter 3", "filter-days-to-limit", now, 26));
    }

    private static JsonObject job(
            String unit, String hall, String function, String work, String figure, Instant now, int days) {
        return new JsonObject()
                .put("unit", unit)
                .put("hall", hall)
                .put("supplier", "Quillmere")
                .put("function", function)
                .put("work", work)
                .put("figure", figure)
                .put("due", now.plus(Duration.ofDays(days)).toString())
                .put("early", now.plus(Duration.ofDays(days - 5)).toString())
                .put("late", now.plus(Duration.ofDays(days + 8)).toString())
                .put("why", "At its present growth the promise is kept for " + days + " days.");
    }

    /** A cleaning that brought a quarter of the reserve back. */
    JsonArray result(Instant from) {
        return new JsonArray()
                .add(new JsonObject()
                        .put("figure", "heat-transfer-reserve")
                        .put("unit", "1")
                        .put("before", side(from.minus(Duration.ofDays(7)), 0.86))
                        .put("after", side(from.plus(Duration.ofHours(3)), 1.11))
                        .put("change", 0.25)
                        .put("changeStandardUncertainty", 0.02)
                        .put("told", true));
    }

    private static JsonObject side(Instant from, double mean) {
        return new JsonObject()
                .put("from", from.toString())
                .put("to", from.plus(Duration.ofDays(7)).toString())
                .put("minutes", 9000)
                .put("mean", mean)
                .put("standardUncertainty", 0.014);
    }

    /** One unit whose clock is ahead, one with late samples, one well. */
    static JsonArray unitQuality() {
        return new JsonArray()
                .add(unitQuality("E-07", 0, -7_400))
                .add(unitQuality("W-09", 812, 240))
                .add(unitQuality("E-01", 0, 180));
    }

    private static JsonObject unitQuality(String unit, int late, int delayMs) {
        return new JsonObject()
                .put("unit", unit)
                .put("connection", "east-opcua")
                .put("stored", 3_214_118)
                .put("duplicates", 12)
                .put("conflicts", 0)
                .put("late", late)
                .put("refused", 0)
                .put("delayMs", delayMs + 60)
                .put("leastDelayMs", delayMs);
    }

    static JsonArray pointQuality(Instant now) {
        return new JsonArray()
                .add(new JsonObject()
                        .put("point", "tcs.flow")
                        .put("samples", 86_000)
                        .put("good", 85_600)
                        .put("uncertain", 388)
                        .put("bad", 12)
                        .put("perMinute", 60.0)
                        .put("gapMinutes", 7)
                        .put("longestGapMinutes", 6)
                        .put("newestAt", now.toString()));
    }

    JsonArray events(Instant now) {
        return new JsonArray()
                .add(new JsonObject()
                        .put("at", now.minus(Duration.ofHours(5)).toString())
                        .put("function", "heat-transfer")
                        .put("signal", "maintenance-required"))
                .add(new JsonObject().put("at", work.get(0).getString("from")).put("work", work.get(0)));
    }

    /** Two suppliers of twelve units each, one of which fouls twice as fast, compared by the service's own code. */
    JsonObject compare(Instant now) {
        List<Double> slow = IntStream.range(0, 12)
                .mapToObj(n -> 1.1e-7 + 1e-8 * (n * 5 % 7))
                .toList();
        List<Double> fast = IntStream.range(0, 12)
                .mapToObj(n -> 2.0e-7 + 2e-8 * (n * 3 % 7))
                .toList();
        CohortComparison compared =
                CohortComparison.of(List.of(new Cohort("Ostravik", slow), new Cohort("Quillmere", fast)));
        JsonArray cohorts = new JsonArray();
        compared.cohorts()
                .forEach(each -> cohorts.add(new JsonObject()
                        .put("name", each.name())
                        .put("units", 12)
                        .put("unitsWithValue", each.units())
                        .put("mean", each.mean().orElseThrow())
                        .put("lower95", each.lower95().orElseThrow())
                        .put("upper95", each.upper95().orElseThrow())));
        CohortComparison.Pair pair = compared.pairs().get(0);
        JsonArray units = new JsonArray();
        for (int n = 0; n < 24; n++) {
            units.add(new JsonObject()
                    .put("unit", (n < 12 ? "W-" : "E-") + String.format("%02d", n % 12 + 1))
                    .put("cohort", n < 12 ? "Ostravik" : "Quillmere")
                    .put("value", n < 12 ? slow.get(n) : fast.get(n - 12))
                    .put("standardUncertainty", 1.2e-8));
        }
        return new JsonObject()
                .put("measure", "fouling-rate")
                .put("words", "Rise of the fouling resistance in 30 days")
                .put("by", "supplier")
                .put("unit", "K/W")
                .put("from", now.minus(Duration.ofDays(90)).toString())
                .put("to", now.toString())
                .put("sentence", "Quillmere is higher than Ostravik.")
                .put("method", new JsonArray().add("Theil–Sen slope of the daily means."))
                .put("cohorts", cohorts)
                .put(
                        "pairs",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("first", pair.first())
                                        .put("second", pair.second())
                                        .put("difference", pair.difference().orElseThrow())
                                        .put("lower95", pair.lower95().orElseThrow())
                                        .put("upper95", pair.upper95().orElseThrow())
                                        .put("probability", pair.probability().orElseThrow())
                                        .put("verdict", "different")))
                .put("units", units);
    }

    /** Counts and sums of the shape that the service gives. */
    JsonObject evidence(Instant now) {
        String sum = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08";
        return new JsonObject()
                .put("unit", "E-07")
                .put("from", now.minus(Duration.ofDays(30)).toString())
                .put("to", now.toString())
                .put("checksumOf", "SHA-256 over one line an hour")
                .put(
                        "points",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("point", "tcs.flow")
                                        .put("samples", 2_592_000)
                                        .put("good", 2_591_210)
                                        .put("bad", 12)
                                        .put("hours", 720)
                                        .put("sha256", sum)))
                .put(
                        "figures",
                        new JsonArray()
                                .add(new JsonObject()
                                        .put("key", "heat-transfer-reserve")
                                        .put("minutes", 31_204)
                                        .put("gapMinutes", 11_996)
                                        .put("sha256", sum)));
    }

    JsonArray forecasts(String unit, Instant now) {
        return unit.equals("E-07")
                ? new JsonArray()
                        .add(new JsonObject()
                                .put("figure", "fouling-resistance")
                                .put("at", now.truncatedTo(ChronoUnit.DAYS).toString())
                                .put("level", 6.1e-7)
                                .put("levelStandardUncertainty", 0.2e-7)
                                .put("limit", 7.7e-7)
                                .put("form", "linear")
                                .put("medianDays", 19.0)
                                .put("lower80Days", 14.0)
                                .put("upper80Days", 27.0)
                                .put("lower95Days", 11.5)
                                .put("upper95Days", 36.0))
                : new JsonArray();
    }

    /** A slow rise with a gap, a spike and a doubtful stretch. */
    JsonObject series(Instant from, Instant to, double last, String ucum, boolean figure) {
        Duration step = Duration.between(from, to).dividedBy(BUCKETS);
        JsonArray buckets = new JsonArray();
        for (int n = 0; n < BUCKETS; n++) {
            double mean = last * (0.9 + n / (10.0 * BUCKETS) + 0.004 * Math.sin(n * 1.7));
            if (n < 100 || n > 115) {
                JsonObject bucket = new JsonObject()
                        .put("start", from.plus(step.multipliedBy(n)).toString())
                        .put("min", mean - 0.006 * last)
                        .put("max", mean + (n == 180 ? 0.05 : 0.007) * last)
                        .put("mean", mean);
                buckets.add(
                        figure
                                ? bucket.put("values", 30).put("gaps", 0).put("standardUncertainty", 0.01 * last)
                                : bucket.put("count", 30).put("good", n == 60 ? 12 : 30));
            }
        }
        return new JsonObject()
                .put("unit", ucum)
                .put("stepSeconds", step.toMillis() / 1000.0)
                .put("buckets", buckets);
    }
}
