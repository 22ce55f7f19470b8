package io.loopwarden.bench;

import java.net.http.HttpResponse;

/** The whole fleet by one request, while every unit sends once a second. */
final class FleetQuery implements BenchMain.Row {

    private static final double GOAL_MS = 20;

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int units = wanted.units();
        try (LiveRig rig = new LiveRig(wanted.root(), units, 1)) {
            long[] length = {0};
            Runs ms = Timed.ms(wanted.of(5, 100, 300), wanted.of(5, 200, 500), () -> {
                HttpResponse<byte[]> answer = rig.service.get("/api/v1/fleet");
                length[0] = answer.body().length;
                return answer.statusCode();
            });
            return Sheet.of(
                    Line.atMost("fleet query, " + units + " units, p95", Runs.of(ms.quantile(0.95)), "ms", GOAL_MS),
                    Line.told("the same, median", Runs.of(ms.median()), "ms"),
                    Line.told("length of the answer", Runs.of(length[0] / 1e6), "MB"));
        }
    }
}
