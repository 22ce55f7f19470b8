package io.loopwarden.study;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** A study's figures as a table for people and as JSON for machines, and its pictures as a page. */
record Report(String study, long seed, List<Finding> findings, List<Picture> pictures) {

    Report {
        findings = List.copyOf(findings);
        pictures = List.copyOf(pictures);
    }

    Report(String study, long seed, List<Finding> findings) {
        this(study, seed, findings, List.of());
    }

    Finding finding(String what) {
        return findings.stream()
                .filter(f -> f.what().equals(what))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no figure named " + what));
    }

    void print(PrintStream out) {
        out.printf("study %s, seed %d%n", study, seed);
        out.printf("%-78s %18s %-7s %-12s %s%n", "what", "figure", "unit", "goal", "holds");
        for (Finding f : findings) {
            String spread = f.spread().isPresent() ? " ± " + number(f.spread().getAsDouble()) : "";
            String verdict = f.goal().isEmpty() ? "" : f.holds() ? "yes" : "NO";
            out.printf(
                    "%-78s %18s %-7s %-12s %s%n", f.what(), number(f.figure()) + spread, f.unit(), f.goal(), verdict);
        }
    }

    void write(Path file) throws IOException {
        List<Map<String, Object>> rows = findings.stream().map(this::row).toList();
        Files.createDirectories(file.getParent());
        new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT).writeValue(file.toFile(), rows);
        if (!pictures.isEmpty()) {
            Files.writeString(page(file), ReportPage.html(this));
        }
    }

    /** Where the pictures go. */
    static Path page(Path file) {
        return file.resolveSibling(file.getFileName().toString().replaceFirst("\\.json$", "") + ".html");
    }

    private Map<String, Object> row(Finding f) {
        Map<String, Object> row = new LinkedHashMap<>();
        row.put("what", f.what());
        row.put("figure", f.figure());
        row.put("unit", f.unit());
        row.put("goal", f.goal());
        row.put("holds", f.holds());
        row.put("seed", seed);
        f.spread().ifPresent(s -> row.put("standardError", s));
        return row;
    }

    static String number(double x) {
        return Math.abs(x) >= 1000 || x == Math.rint(x)
                ? String.format(Locale.ROOT, "%.0f", x)
                : String.format(Locale.ROOT, Math.abs(x) < 0.1 ? "%.3g" : "%.2f", x);
    }
}
