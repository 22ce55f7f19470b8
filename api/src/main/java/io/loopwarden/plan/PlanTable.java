package io.loopwarden.plan;

import java.time.Instant;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The plan as comma-separated values (RFC 4180), times in UTC. */
public final class PlanTable {

    private static final String HEAD = "due_utc,early_80_utc,late_80_utc,unit,hall,supplier,function,work,why\r\n";

    private PlanTable() {}

    public static String text(List<Job> jobs) {
        return HEAD + jobs.stream().map(PlanTable::line).collect(Collectors.joining());
    }

    private static String line(Job job) {
        return Stream.of(
                                time(job.due()),
                                time(job.early()),
                                time(job.late()),
                                job.unit(),
                                job.hall(),
                                job.supplier(),
                                job.function(),
                                job.work(),
                                job.why())
                        .map(PlanTable::quoted)
                        .collect(Collectors.joining(","))
                + "\r\n";
    }

    private static String time(Instant at) {
        return at == null ? "" : at.toString();
    }

    /** A text that a table program would take for a formula gets an apostrophe before it. */
    private static String quoted(String text) {
        String safe = !text.isEmpty() && "=+-@\t".indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
        return safe.matches("(?s).*[\",\r\n].*") ? "\"" + safe.replace("\"", "\"\"") + "\"" : safe;
    }
}
