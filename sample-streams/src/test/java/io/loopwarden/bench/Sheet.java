package io.loopwarden.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;

/** What one benchmark found: lines for people and machines, and curves. */
record Sheet(List<Line> lines, List<Chart> charts) {

    Sheet {
        lines = List.copyOf(lines);
        charts = List.copyOf(charts);
    }

    static Sheet of(Line... lines) {
        return new Sheet(List.of(lines), List.of());
    }

    static void heading(PrintStream out) {
        out.printf(
                "%-72s %22s %22s %-12s %18s %-14s %s%n", "what", "ours", "plain way", "unit", "ratio", "goal", "holds");
    }

    void print(PrintStream out) {
        for (Line line : lines) {
            out.printf(
                    "%-72s %22s %22s %-12s %18s %-14s %s%n",
                    line.what(),
                    spread(line.ours()),
                    line.plain().map(Sheet::spread).orElse(""),
                    line.unit(),
                    line.ratio().map(Sheet::spread).orElse(""),
                    line.goal(),
                    line.holds() == Line.Verdict.NONE ? "" : line.holds() == Line.Verdict.YES ? "yes" : "NO");
        }
    }

    /** {@code NAME.json} and one picture a chart. */
    void write(Path folder, String name) throws IOException {
        Files.createDirectories(folder);
        new ObjectMapper()
                .enable(SerializationFeature.INDENT_OUTPUT)
                .writeValue(
                        folder.resolve(name + ".json").toFile(),
                        lines.stream().map(Line::json).toList());
        for (Chart chart : charts) {
            Files.writeString(folder.resolve(chart.name() + ".svg"), chart.svg());
        }
    }

    /** Median, and least to most where there is more than one run. */
    static String spread(Runs runs) {
        return runs.values().size() == 1
                ? number(runs.median())
                : number(runs.median()) + " (" + number(runs.least()) + "-" + number(runs.most()) + ")";
    }

    static String number(double x) {
        double size = Math.abs(x);
        if (size >= 1e6) {
            return String.format(Locale.ROOT, "%.2fM", x / 1e6);
        }
        if (size >= 1e4) {
            return String.format(Locale.ROOT, "%.1fk", x / 1e3);
        }
        return size >= 100 || x == Math.rint(x)
                ? String.format(Locale.ROOT, "%.0f", x)
                : String.format(Locale.ROOT, size < 0.1 ? "%.2g" : "%.2f", x);
    }
}
